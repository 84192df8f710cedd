package partfile

import "strings"

// A spot is a value's place in the file and what the maker calls it.
type spot struct {
	at    place
	field string // "edge 2 flange 1 angle"
	value string // as it stands in the file
}

// An atlas knows where in the file each field of the part came from. Fields go by
// their paths, "web.edges[1].flanges[0].angle".
type atlas struct {
	spots map[string]spot
	// stands says of a field of the part, or of all that lies below a path, that it
	// stands in the file under another one.
	stands map[string]string
	// lost are the fields for which the file holds no usable value, about which
	// nothing more is said; broken are the paths that such a field lies below.
	lost, broken map[string]bool
}

func newAtlas() atlas {
	return atlas{map[string]spot{}, map[string]string{}, map[string]bool{}, map[string]bool{}}
}

func (a *atlas) mark(path string, s spot) { a.spots[path] = s }

// alias makes a path, and all below it, stand where another does.
func (a *atlas) alias(path, as string) { a.stands[path] = as }

// lose records that the file has no usable value for a field. What a flange is does
// not bear on the panel it hangs from, so nothing above the flange is broken by it.
func (a *atlas) lose(path string) {
	path = a.resolve(path)
	a.lost[path] = true
	for {
		a.broken[path] = true
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 || strings.HasPrefix(path[cut:], ".flange") {
			return
		}
		path = path[:cut]
		if strings.HasSuffix(path, ".flanges") {
			return
		}
	}
}

// resolve follows a path of the part to the one under which it stands in the file.
func (a *atlas) resolve(path string) string {
	for range 8 { // a leg's field, in a leg, in a chain of flanges: three is the most
		next, moved := a.follow(path)
		if !moved {
			return path
		}
		path = next
	}
	return path
}

func (a *atlas) follow(path string) (next string, moved bool) {
	for at := path; at != ""; at = up(at) {
		if _, known := a.spots[at]; known {
			return path, false
		}
		if as, stands := a.stands[at]; stands {
			return as + path[len(at):], true
		}
	}
	return path, false
}

// up is the path of what a field belongs to; "" at the top.
func up(path string) string {
	return path[:max(strings.LastIndexAny(path, ".["), 0)]
}

// silent reports whether a fault of a field follows from a value that is lost.
func (a *atlas) silent(path string) bool {
	if a.broken[path] {
		return true
	}
	path = a.resolve(path)
	if a.broken[path] {
		return true
	}
	for at := path; at != ""; at = up(at) {
		if a.lost[at] {
			return true
		}
	}
	return false
}

// find returns the spot of a field, or else of what it belongs to, and the rest of
// the path that has no place of its own.
func (a *atlas) find(path string) (s spot, rest string) {
	path = a.resolve(path)
	at := path
	for {
		s, known := a.spots[at]
		if known || at == "" {
			return s, strings.Trim(path[len(at):], ".")
		}
		at = up(at)
	}
}
