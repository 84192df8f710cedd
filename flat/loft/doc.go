// Package loft turns measured offsets into fair lines: what a batten sprung over a
// loft floor does, with every reading's residual and the doubtful reading named.
//
// # Conventions
//
// Stations run along a base line and offsets square to it, all in millimetres. A
// slope is a rise per length, a curvature 1/mm. Curvature is positive where the
// line is hollow toward growing offsets. Plane curves that double back, such as a
// hull section, are a [Trace].
//
// # Accuracy
//
// A line through readings is met to the last digits. A line within tolerances bends
// least of all such lines, to a ten-millionth of its bending energy, and lies
// inside every tolerance. A smoothing spline of a few hundred cubics is the exact
// one to rounding; for more data the cubics are spaced evenly and are as many as
// foretell the data best. No curve is carried on past its readings.
//
// # Errors
//
// Every fault of an input is an [*Error], naming what is wrong, its value and the
// rule; several are joined. NaN and infinite numbers are refused. No input panics,
// and nothing is clamped.
//
// # Sources
//
// The smoothing spline: C. H. Reinsch, "Smoothing by Spline Functions", Numer.
// Math. 10 (1967). Its stiffness from the data: P. Craven and G. Wahba, "Smoothing
// noisy data with spline functions", Numer. Math. 31 (1979). Both from memory;
// checked against scipy and exact arithmetic in testdata. Conics by their rho:
// common practice of the loft floor, checked against circles.
package loft
