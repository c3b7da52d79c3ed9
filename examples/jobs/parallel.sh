#!/bin/sh
# A sweep as parts that GNU parallel runs, on this machine or on several.
#
#   ./parallel.sh sweep.yaml parts 16
#   ./parallel.sh sweep.yaml parts 16 --sshloginfile machines
#
# What follows the number of parts goes to GNU parallel. On several machines the
# program, the sweep file and the folder of the parts must be on all of them under
# the same names. Run the same command again if some parts failed. Then
#
#   lanesim merge parts -o rows.parquet
#
set -eu
sweep=$1
parts=$2
count=$3
shift 3
seq 0 $((count - 1)) |
	parallel --quote --halt soon,fail=1 "$@" "${LANESIM:-lanesim}" sweep "$sweep" --shard "{}/$count" -o "$parts" --resume --jobs 1
