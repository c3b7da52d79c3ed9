package main

import (
	"strconv"
	"strings"
)

// whichShard reads --shard: 0 of 1 without one.
func (p *program) whichShard(o sweepOptions) (shard, of uint64, err error) {
	if o.shard == "" {
		return 0, 1, nil
	}
	if len(o.output.paths) != 1 || o.output.paths[0] == standardStream || o.output.json || o.output.csv {
		return 0, 0, wrongInput("--shard needs one -o, the folder of the parts, and prints nothing")
	}
	index, count, slash := strings.Cut(o.shard, "/")
	switch {
	case o.shard == "auto":
		if count = p.environment("SLURM_ARRAY_TASK_COUNT"); count == "" || p.environment("SLURM_ARRAY_TASK_ID") == "" {
			count = p.environment("LANESIM_SHARDS")
		}
		if count == "" {
			return 0, 0, wrongInput("--shard auto: neither SLURM_ARRAY_TASK_COUNT nor LANESIM_SHARDS tells the number of parts")
		}
	case !slash:
		return 0, 0, wrongInput("--shard is %q: it can be i/n, as in 0/8, or /n or auto", o.shard)
	}
	if of, err = strconv.ParseUint(count, 10, 32); err != nil || of == 0 {
		return 0, 0, wrongInput("--shard: %q is no number of parts", count)
	}
	if index == "auto" || index == "" {
		if index, err = p.shardIndex(); err != nil {
			return 0, 0, err
		}
	}
	if shard, err = strconv.ParseUint(index, 10, 32); err != nil || shard >= of {
		return 0, 0, wrongInput("--shard: part %q is not one of 0 to %d", index, of-1)
	}
	return shard, of, nil
}

// shardIndex tells from the environment which part this is: the place in a Slurm
// job array, which may start anywhere and have gaps of one width, or that in a
// Kubernetes Indexed Job.
func (p *program) shardIndex() (string, error) {
	id := p.environment("SLURM_ARRAY_TASK_ID")
	if id == "" {
		if index := p.environment("JOB_COMPLETION_INDEX"); index != "" {
			return index, nil
		}
		return "", wrongInput("--shard: neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX tells which part this is")
	}
	var number [3]uint64
	for i, c := range [][2]string{{"SLURM_ARRAY_TASK_ID"}, {"SLURM_ARRAY_TASK_MIN", "0"}, {"SLURM_ARRAY_TASK_STEP", "1"}} {
		text := p.environment(c[0])
		if text == "" {
			text = c[1]
		}
		v, err := strconv.ParseUint(text, 10, 32)
		if err != nil {
			return "", wrongInput("--shard: %s is %q", c[0], text)
		}
		number[i] = v
	}
	if id, least, step := number[0], number[1], number[2]; id >= least && step > 0 && (id-least)%step == 0 {
		return strconv.FormatUint((id-least)/step, 10), nil
	}
	return "", wrongInput("--shard: task %s does not lie in its array", id)
}
