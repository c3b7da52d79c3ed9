package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"

	"lanesim/physics"
	"lanesim/studies"
)

// trackRecord is what a shot's track tells, as it is printed.
type trackRecord struct {
	Spacing      number `json:"spacing_in"`
	ContactWidth number `json:"contact_width_in"`
	Meeting      number `json:"meeting_share"`
	Film         number `json:"film_um"`
	FilmOnDry    number `json:"film_on_dry_um"`
}

// comparedRecord is a shot of a pair as it is printed.
type comparedRecord struct {
	Name   string          `json:"name"`
	Lane   string          `json:"lane"`
	Ball   string          `json:"ball"`
	Bowler string          `json:"bowler"`
	Status physics.Status  `json:"status"`
	Inputs json.RawMessage `json:"inputs"`
	Events eventsRecord    `json:"events"`
	Marks  []stateRecord   `json:"marks"`
	Sums   summaryRecord   `json:"summary"`
	Track  trackRecord     `json:"track"`

	Aimed *aimedRecord `json:"aimed"`

	// The shot is a mean over phases; at some of them it may be lost.
	Phases int `json:"phases"`
	Lost   int `json:"lost"`
}

func (c *comparison) record(i int, name string) comparedRecord {
	s, t := recordShot(c.shots[i]), c.result.Shots[i]
	return comparedRecord{
		Name: name, Lane: s.Lane, Ball: s.Ball, Bowler: s.Bowler, Status: s.Status, Inputs: s.Inputs,
		Events: s.Events, Marks: s.Marks, Sums: s.Summary,
		Track: trackRecord{
			number(inches(t.Spacing)), number(inches(t.ContactWidth)), number(t.Meeting),
			number(micrometres(t.Film)), number(micrometres(t.OnDry)),
		},
		Aimed: recordAimed(t.Aimed), Phases: t.Phases, Lost: t.Lost,
	}
}

// names tells the two shots of a pair apart by what differs in them.
func (c *comparison) names(i, j int) (a, b string) {
	s, t := c.shots[i], c.shots[j]
	var first, second []string
	for _, n := range [][2]string{{s.ball, t.ball}, {s.lane, t.lane}, {s.bowler, t.bowler}} {
		if n[0] != n[1] {
			first, second = append(first, n[0]), append(second, n[1])
		}
	}
	if len(first) == 0 && c.files[i] != c.files[j] {
		return c.files[i], c.files[j]
	}
	if len(first) == 0 {
		return fmt.Sprintf("shot %d", i+1), fmt.Sprintf("shot %d", j+1)
	}
	return joined(first), joined(second)
}

func joined(names []string) string { return strings.Join(names, ", ") }

// shareRecord holds the numbers of a difference or of a cause's share.
type shareRecord struct {
	AtPins       number `json:"at_pins_boards"`
	FrictionRead number `json:"friction_read_ft"`
	Breakpoint   number `json:"breakpoint_ft"`
	HookStart    number `json:"hook_start_ft"`
	EntryAngle   number `json:"entry_angle_deg"`
}

func recordShare(c studies.Change) shareRecord {
	return shareRecord{number(c.AtPins), number(feet(c.FrictionRead)), number(feet(c.Breakpoint)), number(feet(c.HookStart)), number(degrees(c.EntryAngle))}
}

// spreadRecord holds the standard deviations of a difference over the phases.
type spreadRecord struct {
	AtPins       number `json:"at_pins_boards_sd"`
	FrictionRead number `json:"friction_read_ft_sd"`
	Breakpoint   number `json:"breakpoint_ft_sd"`
	HookStart    number `json:"hook_start_ft_sd"`
	EntryAngle   number `json:"entry_angle_deg_sd"`
}

// holdsRecord tells in how many sets of assumed values conclusions hold.
type holdsRecord struct {
	FrictionRead struct {
		Of      int `json:"of"`
		Later   int `json:"later"`
		Earlier int `json:"earlier"`
		None    int `json:"none"`
	} `json:"friction_read"`
	AtPins struct {
		Of      int `json:"of"`
		Outside int `json:"outside"`
		Inside  int `json:"inside"`
		None    int `json:"none"`
	} `json:"at_pins"`
	Visible struct {
		Of  int `json:"of"`
		Yes int `json:"yes"`
		No  int `json:"no"`
	} `json:"visible"`
	Lines struct {
		Of       int `json:"of"`
		Followed int `json:"followed"`
		Changed  int `json:"changed"`
		Lost     int `json:"lost"`
	} `json:"lines"`
}

// recordHolds returns nil where no sets were tried.
func recordHolds(h studies.Holds) *holdsRecord {
	if h.AtPins.Of == 0 {
		return nil
	}
	r := &holdsRecord{}
	f, p, v := &r.FrictionRead, &r.AtPins, &r.Visible
	f.Of, f.Later, f.Earlier, f.None = h.FrictionRead.Of, h.FrictionRead.Positive, h.FrictionRead.Negative, h.FrictionRead.None
	p.Of, p.Outside, p.Inside, p.None = h.AtPins.Of, h.AtPins.Negative, h.AtPins.Positive, h.AtPins.None
	v.Of, v.Yes, v.No = h.Seen.Of, h.Seen.Positive, h.Seen.None
	l := &r.Lines
	l.Of, l.Followed, l.Changed, l.Lost = h.Seen.Of, h.Seen.Of-h.Changed-h.Lost, h.Changed, h.Lost
	return r
}

// causeRecord is a share of the difference.
type causeRecord struct {
	Cause string `json:"cause"`
	shareRecord
}

func recordCauses(list []studies.Cause) []causeRecord {
	records := []causeRecord{}
	for _, c := range list {
		records = append(records, causeRecord{c.Name, recordShare(c.Change)})
	}
	return records
}

// apartRecord is how far two paths are apart at a distance.
type apartRecord struct {
	Distance number `json:"distance_ft"`
	Boards   number `json:"boards"`
}

// pairRecord is a pair as it is printed; everything is b − a.
type pairRecord struct {
	A      comparedRecord `json:"a"`
	B      comparedRecord `json:"b"`
	Boards []apartRecord  `json:"difference_boards"`
	shareRecord
	spreadRecord
	Parting     number        `json:"parting_ft"`
	Visible     bool          `json:"visible"`
	Holds       *holdsRecord  `json:"holds"`
	Mechanisms  []causeRecord `json:"mechanisms"`
	Inputs      []causeRecord `json:"inputs"`
	Error       *shareRecord  `json:"numerical_error,omitempty"`
	Explanation string        `json:"explanation"`
}

func (c *comparison) recordPair(k int) pairRecord {
	p := c.result.Pairs[k]
	a, b := c.names(p.A, p.B)
	r := pairRecord{
		A: c.record(p.A, a), B: c.record(p.B, b),
		shareRecord:  recordShare(p.Difference),
		spreadRecord: spreadRecord(recordShare(p.Spread)),
		Parting:      number(feet(p.Parting)),
		Visible:      p.Visible, Holds: recordHolds(p.Holds),
		Mechanisms: recordCauses(p.Mechanisms), Inputs: recordCauses(p.Inputs),
		Explanation: c.result.Explain(k, a, b),
	}
	if p.Error != (studies.Change{}) {
		e := recordShare(p.Error)
		r.Error = &e
	}
	for _, d := range p.Boards {
		r.Boards = append(r.Boards, apartRecord{number(feet(d.Distance)), number(d.Boards)})
	}
	return r
}

// encode prints the comparison as JSON, a pair on a line.
func (c *comparison) encode() ([]byte, error) {
	warnings := c.warnings
	if warnings == nil {
		warnings = []string{}
	}
	head, err := encodeJSON(warnings)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\"model\":%d,\n\"warnings\":%s,\n\"matrix\":", model, head)
	lines := func(record func(k int) any) error {
		for k := range c.result.Pairs {
			text, err := encodeJSON(record(k))
			if err != nil {
				return err
			}
			fmt.Fprintf(&b, "%s\n%s", map[bool]string{true: "[", false: ","}[k == 0], text)
		}
		return nil
	}
	if err := lines(func(k int) any { return c.recordMatrix(k) }); err != nil {
		return nil, err
	}
	b.WriteString("],\n\"pairs\":")
	if err := lines(func(k int) any { return c.recordPair(k) }); err != nil {
		return nil, err
	}
	b.WriteString("]}\n")
	return b.Bytes(), nil
}

// encodeCSV prints the boards between the paths as CSV, a row for each pair and
// distance. What does not exist is an empty cell.
func (c *comparison) encodeCSV() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write([]string{"bowler", "a", "b", "distance_ft", "boards"}); err != nil {
		return nil, err
	}
	cell := csvCell
	for k, p := range c.result.Pairs {
		r := c.recordPair(k)
		bowler := c.shots[p.A].bowler
		if other := c.shots[p.B].bowler; other != bowler {
			bowler = ""
		}
		for _, d := range r.Boards {
			if err := w.Write([]string{bowler, r.A.Name, r.B.Name, cell(d.Distance), cell(d.Boards)}); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}
