package main

import (
	"lanesim/report/thrown"
	"lanesim/scenario"
)

// sayAssumptions says, for a verbose program, which of a scenario's values are
// defaults that were assumed or taken from elsewhere.
func (p *program) sayAssumptions(s *scenario.Scenario) {
	if p.common.verbose {
		for _, text := range s.Defaults() {
			p.say("default: %s", text)
		}
	}
}

// sayWork says, for a verbose program, what the shots took.
func (p *program) sayWork(shots []thrown.Shot) {
	for _, s := range shots {
		for _, line := range thrown.WorkText(s) {
			p.say("%s", line)
		}
	}
}
