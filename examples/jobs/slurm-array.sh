#!/bin/sh
# A sweep as a Slurm job array: each task computes one part.
#
#   sbatch --array=0-15 slurm-array.sh sweep.yaml parts
#
# The number of tasks is the number of parts. Give as many as the cluster will
# start at once, and submit the same command again if some of them failed: parts
# that are there are skipped, and those that were begun are gone on with. Then
#
#   lanesim merge parts -o rows.parquet
#
#SBATCH --job-name=lanesim
#SBATCH --array=0-7
#SBATCH --cpus-per-task=1
#SBATCH --mem-per-cpu=500M
set -eu
sweep=$1
parts=$2
exec "${LANESIM:-lanesim}" sweep "$sweep" --shard auto -o "$parts" --resume --jobs "${SLURM_CPUS_PER_TASK:-1}"
