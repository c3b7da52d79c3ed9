package theme

import "image/color"

// Colours that pictures alone have, which are always light.
var (
	Mark      = rgb(0x98a0a9)         // what stands behind: arrows, phases, dry tracks
	Plate     = clear(0xffffff, 0xb8) // behind type on oil
	BallPlate = clear(0xffffff, 0xe4) // behind type on tracks
	BallFill  = rgb(0xfafbfc)
	OilyTrack = rgb(0x2c3e50)

	Band     = rgb(0xe4e6e9)         // the width of the contact; the pocket beside bars
	Room     = clear(0xd55e00, 0x55) // of a line, pale enough for the oil to show through
	Delivery = clear(0x005a96, 0x46) // one among many
	Missed   = rgb(0xa9c3d9)         // bars of deliveries beside the pocket

	// LaidDown is the end of a ramp for oil that was laid down: a quiet ochre, as light as
	// the full end of the oil, which stands for what was taken.
	LaidDown = rgb(0xd9a441)

	// Tints of differences, pale enough for type in colour and in grey.
	Outside = rgb(0x9cc4e4)
	Inside  = rgb(0xf3c49b)
	Unseen  = rgb(0xf1f2f4)

	// Ramps of maps beside that of oil, each a quiet single hue.
	PocketRamp = [2]color.NRGBA{rgb(0xeef5ee), rgb(0x86b58c)} // green
	GoodRamp   = [2]color.NRGBA{rgb(0xf3eff7), rgb(0xb497c8)} // violet
	StrikeRamp = [2]color.NRGBA{rgb(0xfaf3e6), rgb(0xd9ae6c)} // amber
)

// The icon of the page.
var (
	IconGround = rgb(0x152b3c)
	IconLine   = rgb(0xf2c14e)
	IconBall   = rgb(0xffffff)
)
