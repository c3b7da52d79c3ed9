package rows

import (
	"fmt"
	"strconv"
	"strings"
)

// Shard reads which part of the rows a run computes, and of how many: i/n, or /n or auto,
// which take the rest from the environment variables of a cluster's job.
func Shard(text string, environment func(string) string) (shard, of uint64, err error) {
	index, count, slash := strings.Cut(text, "/")
	switch {
	case text == "auto":
		if count = environment("SLURM_ARRAY_TASK_COUNT"); count == "" || environment("SLURM_ARRAY_TASK_ID") == "" {
			count = environment("LANESIM_SHARDS")
		}
		if count == "" {
			return 0, 0, fmt.Errorf("neither SLURM_ARRAY_TASK_COUNT nor LANESIM_SHARDS gives the number of parts")
		}
	case !slash:
		return 0, 0, fmt.Errorf("%q is not a part: it can be i/n, as in 0/8, or /n or auto", text)
	}
	if of, err = strconv.ParseUint(count, 10, 32); err != nil || of == 0 {
		return 0, 0, fmt.Errorf("%q is not a number of parts", count)
	}
	if index == "auto" || index == "" {
		if index, err = shardIndex(environment); err != nil {
			return 0, 0, err
		}
	}
	if shard, err = strconv.ParseUint(index, 10, 32); err != nil || shard >= of {
		return 0, 0, fmt.Errorf("part %q is not one of 0 to %d", index, of-1)
	}
	return shard, of, nil
}

// shardIndex reads from the environment which part this is: the index in a Slurm job
// array, which may start anywhere and have a constant step, or in a Kubernetes Indexed
// Job.
func shardIndex(environment func(string) string) (string, error) {
	id := environment("SLURM_ARRAY_TASK_ID")
	if id == "" {
		if index := environment("JOB_COMPLETION_INDEX"); index != "" {
			return index, nil
		}
		return "", fmt.Errorf("neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX says which part this is")
	}
	var number [3]uint64
	for i, c := range [][2]string{{"SLURM_ARRAY_TASK_ID"}, {"SLURM_ARRAY_TASK_MIN", "0"}, {"SLURM_ARRAY_TASK_STEP", "1"}} {
		text := environment(c[0])
		if text == "" {
			text = c[1]
		}
		v, err := strconv.ParseUint(text, 10, 32)
		if err != nil {
			return "", fmt.Errorf("%s is %q, not a whole number", c[0], text)
		}
		number[i] = v
	}
	if id, least, step := number[0], number[1], number[2]; id >= least && step > 0 && (id-least)%step == 0 {
		return strconv.FormatUint((id-least)/step, 10), nil
	}
	return "", fmt.Errorf("task %s is not in its Slurm job array", id)
}
