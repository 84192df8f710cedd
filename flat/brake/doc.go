// Package brake finds an order in which the bends of a blank can be made in a hand
// brake: a bed and a nose bar that clamp the sheet, and a leaf that swings the metal
// in front of them up round the nose.
//
// # What is checked
//
// For every order, and for every bend in it held on one side or on the other, the
// metal that is bent already must clear the nose bar, the bed and the leaf all through
// the swing, from flat to the angle the bend is taken to. Bends turned toward the
// marking face are made with that face up, the others with the sheet turned over. Of
// the orders that can be made, the one with the fewest turn-overs is given, and of those
// the one that takes lips before the flanges they hang from.
//
// Metal that lies flat under the bar is not bent metal, and neither is the flange that
// is swung: the one lies where it should, and how far the other may go is [Nose.Most].
// Metal that stands up or hangs down behind the bend must also pass between the bed and
// the raised bar.
//
// Not looked for: bent metal that a bend would bring against other metal of the part on
// the way (package flat reports metal that stands in metal in the finished part); a
// section that closes round the bar and comes off over its end; and whether the brake is
// strong enough for the sheet.
//
// # Conventions
//
// Lengths are mm. Seen from the end of the brake, y runs from the tangent line that is
// held under the nose toward the leaf, z from the bed upward; the sheet lies on z = 0.
//
// # Accuracy
//
// The swing is sampled and the least clearance then closed in on. The curl of a bend is
// taken as eight flat slabs, which leave it by (R + T)·(1 - cos(A/16)): 0.03 mm for 90°
// round 5 mm.
package brake
