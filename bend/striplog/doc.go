// Package striplog reads a shop's log of test bends and finds the K of each sheet and radius
// that was tried.
//
// The log is a CSV file. Lines that begin with # are remarks. The first row names the
// columns, in any order:
//
//	strip      what is written on the strip; no two the same
//	material   as package material names it: "2024-T3", "alclad 2024-T3"
//	thickness  measured, with its unit or gauge: "0.0402 in", "1.02 mm", "20 SWG";
//	           the gauge of another metal is refused
//	radius     inside radius of the bar, with its unit: "1/8 in"
//	angle      turned through from flat, with its unit: "90 deg"
//	blank      length before bending, with its unit
//	leg a      a leg after bending, by outside caliper, with its unit
//	leg b      the other leg
//	to         may be left out: "mold line" (also when empty) or "outside of fold"
//
// Strips of one material, one sheet (thicknesses measured within 5 %, named by the standard
// thickness nearest, if one is within 2.5 %) and one radius make a group; a group of at
// least three that agree gives one K.
package striplog
