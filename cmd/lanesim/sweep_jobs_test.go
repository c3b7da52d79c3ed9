package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"lanesim/internal/files"
	"lanesim/rows"
)

const jobFiles = examples + "/jobs"

// jobSweep returns the sweep file for testing job files, and the rows of the whole sweep.
func jobSweep(t *testing.T) (file string, want []byte) {
	t.Helper()
	file = sweepFile(t, strings.Replace(longSweep, "6000", "1000", 1))
	whole := filepath.Join(t.TempDir(), "whole.csv")
	good(t, "", "sweep", file, "-q", "-o", whole)
	return file, contents(t, whole)
}

// merged merges parts and compares the result with the whole sweep.
func merged(t *testing.T, parts string, want []byte) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "merged.csv")
	good(t, "", "merge", parts, "-q", "-o", out)
	if !bytes.Equal(contents(t, out), want) {
		t.Error("the parts do not make the whole")
	}
}

// builtProgram returns the path of the program that job files run.
func builtProgram(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("lanesim")
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// The job file of GNU parallel computes the whole sweep, even if one part exists and one is
// unfinished. It needs the program parallel.
func TestParallelJobs(t *testing.T) {
	if os.Getenv("LANESIM_PARALLEL") == "" {
		t.Skip("LANESIM_PARALLEL is not set")
	}
	file, want := jobSweep(t)
	parts := filepath.Join(t.TempDir(), "parts of the sweep")
	good(t, "", "sweep", file, "-q", "--shard", "2/5", "-o", parts)
	begun := contents(t, filepath.Join(parts, rows.PartName(2, 5)))
	begun = bytes.Replace(begun, []byte(`"shard":2`), []byte(`"shard":3`), 1)
	write(t, filepath.Join(parts, rows.PartName(3, 5)+files.PartialEnding), begun[:len(begun)/2])
	c := exec.Command("sh", filepath.Join(jobFiles, "parallel.sh"), file, parts, "5", "--jobs", "2")
	c.Env = append(os.Environ(), "LANESIM="+builtProgram(t))
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	merged(t, parts, want)
}

// slurmSettings are those of a cluster of only this machine.
const slurmSettings = `ClusterName=one
SlurmctldHost=%[1]s(127.0.0.1)
SlurmctldPort=16817
SlurmdPort=16818
AuthType=auth/none
CredType=cred/none
MpiDefault=none
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
JobAcctGatherType=jobacct_gather/none
SlurmUser=root
SlurmdUser=root
ReturnToService=2
StateSaveLocation=%[2]s/state
SlurmdSpoolDir=%[2]s/spool
SlurmctldPidFile=%[2]s/slurmctld.pid
SlurmdPidFile=%[2]s/slurmd.pid
SlurmctldLogFile=%[2]s/slurmctld.log
SlurmdLogFile=%[2]s/slurmd.log
NodeName=%[1]s NodeAddr=127.0.0.1 CPUs=%[3]s
PartitionName=all Nodes=ALL Default=YES MaxTime=INFINITE State=UP
`

// The job file of Slurm computes the whole sweep, on a cluster of one node that the test
// starts. It needs Debian's slurm-wlm, and root.
func TestSlurmJobs(t *testing.T) {
	if os.Getenv("LANESIM_SLURM") == "" {
		t.Skip("LANESIM_SLURM is not set")
	}
	file, want := jobSweep(t)
	folder := t.TempDir()
	for _, name := range []string{"state", "spool"} {
		if err := os.Mkdir(filepath.Join(folder, name), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	host, err := os.Hostname()
	if err != nil {
		t.Fatal(err)
	}
	host, _, _ = strings.Cut(host, ".")
	settings := filepath.Join(folder, "slurm.conf")
	write(t, settings, fmt.Appendf(nil, slurmSettings, host, folder, "2"))
	t.Setenv("SLURM_CONF", settings)
	for _, daemon := range [][]string{{"slurmctld", "-D", "-f", settings}, {"slurmd", "-D", "-f", settings, "-N", host}} {
		c := exec.Command(daemon[0], daemon[1:]...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() {
			c.Process.Signal(os.Interrupt)
			c.Wait()
		})
	}
	logs := func() string {
		var all []string
		for _, name := range []string{"slurmctld.log", "slurmd.log"} {
			text, _ := os.ReadFile(filepath.Join(folder, name))
			all = append(all, string(text))
		}
		return strings.Join(all, "\n")
	}
	begin := time.Now()
	for ; ; time.Sleep(200 * time.Millisecond) {
		if out, err := exec.Command("sinfo", "--noheader", "--format=%T").Output(); err == nil && strings.TrimSpace(string(out)) == "idle" {
			break
		}
		if time.Since(begin) > time.Minute {
			t.Fatalf("no node after a minute\n%s", logs())
		}
	}
	parts := filepath.Join(folder, "parts")
	// An array that starts at 3 with steps of 2: tasks 3, 5, 7 and 9.
	c := exec.Command("sbatch", "--wait", "--array=3-9:2", "--output="+filepath.Join(folder, "task-%a.out"), "--export=ALL,LANESIM="+builtProgram(t),
		"--mem-per-cpu=0", filepath.Join(jobFiles, "slurm-array.sh"), file, parts)
	if out, err := c.CombinedOutput(); err != nil {
		said, _ := filepath.Glob(filepath.Join(folder, "task-*.out"))
		for _, s := range said {
			t.Logf("%s", contents(t, s))
		}
		t.Fatalf("%v\n%s\n%s", err, out, logs())
	}
	merged(t, parts, want)
}

// The Kubernetes job has as many completions as its command line has parts, and the program
// accepts that command line.
func TestKubernetesJob(t *testing.T) {
	text := string(contents(t, filepath.Join(jobFiles, "kubernetes-job.yaml")))
	find := func(pattern string) string {
		m := regexp.MustCompile(pattern).FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("nothing is like %s", pattern)
		}
		return m[1]
	}
	find(`(?m)^  completionMode: (Indexed)$`)
	completions, err := strconv.Atoi(find(`(?m)^  completions: (\d+)$`))
	if err != nil {
		t.Fatal(err)
	}
	shards := find(`- name: LANESIM_SHARDS\s+value: "(\d+)"`)
	if shards != strconv.Itoa(completions) {
		t.Errorf("%d completions, %s parts", completions, shards)
	}
	command := strings.Split(find(`(?m)^          command: \[lanesim, (.*)\]$`), ", ")
	file, want := jobSweep(t)
	parts := filepath.Join(t.TempDir(), "parts")
	for i := range completions {
		environment := map[string]string{"JOB_COMPLETION_INDEX": strconv.Itoa(i), "LANESIM_SHARDS": shards}
		var out, said bytes.Buffer
		p := &program{in: strings.NewReader(""), out: &out, err: &said, environment: func(name string) string { return environment[name] }}
		own := strings.NewReplacer("/data/sweep.yaml", file, "/data/parts", parts, `"`, "")
		var arguments []string
		for _, a := range command {
			arguments = append(arguments, own.Replace(a))
		}
		if code := p.run(t.Context(), append(arguments, "-q")); code != exitDone {
			t.Fatalf("index %d: exit code %d\n%s", i, code, &said)
		}
	}
	merged(t, parts, want)
}
