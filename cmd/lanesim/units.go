package main

import (
	"lanesim/ball"
	"lanesim/lane"
	"math"
)

// The units of output. Everything that is printed is converted here.
const (
	milePerHour = 0.44704      // m/s, exact: 1609.344 m in 3600 s
	perMinute   = math.Pi / 30 // rad/s in one revolution per minute
	micrometre  = 1e-6         // m
	millilitre  = 1e-6         // m³
)

func feet(m float64) float64              { return m / lane.Foot }
func inches(m float64) float64            { return m / lane.Inch }
func micrometres(m float64) float64       { return m / micrometre }
func microinches(m float64) float64       { return m / ball.Microinch }
func millimetres(m float64) float64       { return m / 1e-3 }
func degrees(rad float64) float64         { return rad / ball.Degree }
func milesPerHour(mps float64) float64    { return mps / milePerHour }
func revsPerMinute(radps float64) float64 { return radps / perMinute }
func millilitres(m3 float64) float64      { return m3 / millilitre }
