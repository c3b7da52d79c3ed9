// Package validation holds published and derived cases with known answers,
// and the runner that checks the physics against them.
//
// Each [Case] compares one quantity and has the source of its answer and the kind of that
// source. [Cases] lists them:
//
//   - textbook problems of a ball that slides until it rolls;
//   - a lane of two friction zones, by chained parabolas;
//   - where a shot begins to hook, turns back and reads the friction;
//   - the rigid body: one shot to nine digits, the free rotation of a
//     symmetric and of an asymmetric body, the sizes of a core's effects, and
//     flare;
//   - the geometry of lane, layout and oil;
//   - what the trade reports of shots on a crowned pattern, and of covers;
//   - shots integrated by another program with scipy;
//   - a smooth blow on a pin, which pin takes which, and what a ball's place, angle and
//     weight do.
//
// Figures quoted for a ball's blow on a pin with friction are not among the cases: neither
// the solver nor Keller's integration, which agree, gives them. The tests of package pins
// say so.
//
// Facts that no shot can test are left out: the average releases of bowlers, the limits of
// rule books, and the relative importance of the factors of ball motion.
package validation

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Mark is the kind of a case's source.
type Mark string

// The marks.
const (
	Published      Mark = "published"
	Derived        Mark = "derived"
	CommonPractice Mark = "common practice, no source"
	FromMemory     Mark = "from memory"
)

// Case is one quantity with a known answer.
type Case struct {
	// Name is the set-up, Quantity what is compared. Together they are unique.
	Name, Quantity string

	// Source is where the answer comes from: a citation or a derivation.
	Source string
	Mark   Mark

	// Unit is the unit of Expected; empty for a pure number.
	Unit     string
	Expected float64 // in Unit

	// Tolerance is the allowed error: in Unit, or as a share of Expected if Relative is set.
	// For an answer printed with digits it is half a unit of the last one; a range is given
	// by its middle and half its width.
	Tolerance float64
	Relative  bool

	// Compute returns the quantity, in Unit. An error means that there is no answer, for
	// example because the ball did not reach the place in question.
	Compute func() (float64, error) `json:"-"`
}

// Outcome is a case with its computed quantity.
type Outcome struct {
	Case
	Computed float64 // in Unit

	// Error is Computed minus Expected, in Unit, or as a share of Expected if Relative is
	// set. Tolerance bounds it.
	Error float64

	// Failure is the reason if nothing was computed, else nil. Computed and Error are then
	// NaN.
	Failure error `json:"-"`

	Pass bool
}

// Check computes a case's quantity and compares it.
func (c Case) Check() Outcome {
	o := Outcome{Case: c}
	o.Computed, o.Failure = c.Compute()
	if o.Failure != nil {
		o.Failure = fmt.Errorf("%s, %s: %w", c.Name, c.Quantity, o.Failure)
		o.Computed, o.Error = math.NaN(), math.NaN()
		return o
	}
	o.Error = o.Computed - c.Expected
	if c.Relative {
		o.Error /= math.Abs(c.Expected)
	}
	o.Pass = math.Abs(o.Error) <= c.Tolerance
	return o
}

// Run checks all cases in order. It calls progress, unless nil, after each. If the context
// ends first it returns the outcomes so far and the context's error. A case that fails is
// not an error.
func Run(ctx context.Context, progress func(done, total int)) ([]Outcome, error) {
	cases := Cases()
	outcomes := make([]Outcome, 0, len(cases))
	for i, c := range cases {
		if err := ctx.Err(); err != nil {
			return outcomes, err
		}
		outcomes = append(outcomes, c.Check())
		if progress != nil {
			progress(i+1, len(cases))
		}
	}
	return outcomes, nil
}

// Cases returns all cases, grouped by set-up. Cases of one set-up share its
// shot, which is thrown when the first of them is computed.
func Cases() []Case {
	var all []Case
	for _, part := range []func() []Case{
		textbookCases, finalSpeedCases, twoZoneCases, rollOutCases, eventCases,
		rigidBodyCases, freeRotationCases, effectCases, flareCases,
		laneCases, ballCases, oilCases,
		practiceCases, coverCases, pinCases,
		scipyCases,
	} {
		all = append(all, part()...)
	}
	return all
}

// digits reads an answer as printed. half is half a unit of its last digit, the rounding of
// printing.
func digits(printed string) (value, half float64) {
	value, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		panic(err) // the tables are part of the program
	}
	decimals := 0
	if i := strings.IndexByte(printed, '.'); i >= 0 {
		decimals = len(printed) - i - 1
	}
	return value, 0.5 * math.Pow10(-decimals)
}
