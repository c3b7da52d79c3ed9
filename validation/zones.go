package validation

import (
	"math"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

const (
	oiledZone  = 12.0  // m, of the lane with two zones
	zoneRadius = 0.108 // m, of the ball on it
)

// twoZones returns a lane with friction 0.04 on the oiled 12 m and 0.20 beyond, after
// Frohlich, Am. J. Phys. 72 (2004) 1170 (from memory).
func twoZones() lane.Lane {
	l := lane.Default()
	l.Edgeless = true
	l.Friction = lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: oiledZone, Mu: 0.04}, {To: math.Inf(1), Mu: 0.20}}}
	return l
}

// hookingRelease is the release on the lane with two zones.
func hookingRelease(tilt float64) physics.Release {
	return physics.Release{Speed: 8, RevRate: 300 * units.RPM, AxisRotation: 45 * units.Degree, AxisTilt: tilt, Laydown: 20}
}

// twoZoneCases use that the path of a ball with equal moments is a parabola within a zone,
// and a straight line once it rolls.
func twoZoneCases() []Case {
	const source = "closed form by chained parabolas; the zones of Frohlich, Am. J. Phys. 72 (2004) 1170, from memory"
	oiled := twoZones()
	oiled.Length = oiledZone
	oiled.Friction = lane.Friction{Law: lane.Constant, Mu: oiled.Friction.Zones[0].Mu}
	var all []Case
	for _, row := range []struct {
		name    string
		release physics.Release
		oil     [4]string // time, lateral, velocity to the left and down-lane
		roll    [3]string // time, lateral, distance
		pins    [4]string // time, lateral, speed, angle
	}{
		{"two zones, 300 rpm, rotation 45°", hookingRelease(0),
			[4]string{"1.554455", "0.186608", "0.240094", "7.439499"},
			[3]string{"2.131163", "0.453499", "15.990606"},
			[4]string{"2.490144", "0.699571", "6.436365", "6.1136"}},
		{"two zones, no spin", physics.Release{Speed: 8, Laydown: 20},
			[4]string{"1.559636", "0.000000", "0.000000", "7.388208"},
			[3]string{"2.413099", "0.000000", "17.591245"},
			[4]string{"2.535031", "0.000000", "5.714286", "0.0000"}},
	} {
		b := sphere(zoneRadius, uniform)
		all = append(all, setUp[physics.Shot]{row.name, source, Derived, throw(oiled, b, row.release, physics.Settings{})}.cases(
			shotAnswer{"time at 12 m", "s", row.oil[0], arrives(elapsed)},
			shotAnswer{"lateral position at 12 m", "m", row.oil[1], arrives(lateral)},
			shotAnswer{"velocity to the left at 12 m", "m/s", row.oil[2], arrives(toLeft)},
			shotAnswer{"velocity down-lane at 12 m", "m/s", row.oil[3], arrives(downLane)},
		)...)
		all = append(all, setUp[physics.Shot]{row.name, source, Derived, throw(twoZones(), b, row.release, physics.Settings{})}.cases(
			shotAnswer{"time when it rolls", "s", row.roll[0], rolls(elapsed)},
			shotAnswer{"lateral position when it rolls", "m", row.roll[1], rolls(lateral)},
			shotAnswer{"distance when it rolls", "m", row.roll[2], rolls(distance)},
			shotAnswer{"time at the pins", "s", row.pins[0], arrives(elapsed)},
			shotAnswer{"lateral position at the pins", "m", row.pins[1], arrives(lateral)},
			shotAnswer{"speed at the pins", "m/s", row.pins[2], arrives(speed)},
			shotAnswer{"entry angle", "°", row.pins[3], arrives(heading)},
		)...)
	}
	return all
}

// publishedRelease is the best release found in Ji, Hooper et al., AIP Advances
// 15 (2025) 045222, as quoted second-hand.
func publishedRelease() physics.Release {
	return physics.Release{Speed: 17.9 * units.MPH, RevRate: 416 * units.RPM, AxisRotation: 45 * units.Degree, Laydown: 12, Angle: 1.8 * units.Degree}
}

// rollOutCases: the velocity at which a ball with equal moments rolls out,
//
//	v = (v₀ + κ R ω₀ × ẑ)/(1+κ)
//
// does not depend on friction.
func rollOutCases() []Case {
	const source = "closed form, independent of friction; the release of Ji, Hooper et al., AIP Advances 15 (2025) 045222, second-hand"
	const radius = 4.2975 * units.Inch
	k := 2.50 * units.Inch / radius
	var all []Case
	for _, row := range []struct {
		name         string
		kappa        float64
		speed, angle string
	}{
		{"roll-out, uniform sphere", uniform, "15.09", "6.388"},
		{"roll-out, RG 2.50 in", k * k, "15.39", "5.297"},
	} {
		all = append(all, setUp[physics.Shot]{row.name, source, Derived,
			throw(endless(0.15), sphere(radius, row.kappa), publishedRelease(), physics.Settings{MaxTime: enough})}.cases(
			shotAnswer{"speed", "mph", row.speed, rolls(speed)},
			shotAnswer{"angle from straight down-lane", "°", row.angle, rolls(heading)},
		)...)
	}
	return all
}
