package ball

import "testing"

// Measured once: 0.2 ms, and 3 ms where holes meet.
func BenchmarkDrill(b *testing.B) {
	apart, meeting := DefaultGrip(), DefaultGrip()
	meeting.Middle.Lateral, meeting.Ring.Lateral = 0, 0
	for _, c := range []struct {
		name string
		grip Grip
	}{{"apart", apart}, {"meeting", meeting}} {
		b.Run(c.name, func(b *testing.B) {
			s := asymmetric()
			for b.Loop() {
				mustDrill(b, s, Right, c.grip)
			}
		})
	}
}
