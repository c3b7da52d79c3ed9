package main

import (
	"lanesim/units"
)

// Everything that is printed is converted here.

func feet(m float64) float64              { return m / units.Foot }
func inches(m float64) float64            { return m / units.Inch }
func micrometres(m float64) float64       { return m / units.Micrometre }
func microinches(m float64) float64       { return m / units.Microinch }
func millimetres(m float64) float64       { return m / units.Millimetre }
func degrees(rad float64) float64         { return rad / units.Degree }
func milesPerHour(mps float64) float64    { return mps / units.MPH }
func revsPerMinute(radps float64) float64 { return radps / units.RPM }
func millilitres(m3 float64) float64      { return m3 / units.Millilitre }
