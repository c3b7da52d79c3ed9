package ode

// The embedded Runge–Kutta pair 5(4) of Dormand & Prince, J. Comput. Appl.
// Math. 6 (1980) 19, RK5(4)7M. The last stage is the first of the next step.
// The dense output of order four is Shampine's, as given in Hairer, Nørsett &
// Wanner, Solving Ordinary Differential Equations I, 2nd ed., II.5 and II.6
// (coefficients from memory; the order conditions are tested).
const (
	c2, c3, c4, c5 = 1. / 5, 3. / 10, 4. / 5, 8. / 9

	a21                = 1. / 5
	a31, a32           = 3. / 40, 9. / 40
	a41, a42, a43      = 44. / 45, -56. / 15, 32. / 9
	a51, a52, a53, a54 = 19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729

	a61, a62, a63, a64, a65 = 9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656

	// a7j are the weights of the fifth-order solution.
	a71, a73, a74, a75, a76 = 35. / 384, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84

	// ej are the weights of the difference from the fourth-order solution.
	e1, e3, e4, e5, e6, e7 = 71. / 57600, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40

	// dj are the weights of the dense output's last coefficient.
	d1, d3, d4 = -12715105075. / 11282082432, 87487479700. / 32700410799, -10690763975. / 1880347072
	d5, d6, d7 = 701980252875. / 199316789632, -1453857185. / 822651844, 69997945. / 29380423
)
