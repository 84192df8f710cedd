// Package flat turns a part - a web and its flanges, dimensioned to mold lines -
// into the flat blank it is cut from.
package flat
