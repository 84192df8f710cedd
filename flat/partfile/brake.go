package partfile

import (
	"errors"
	"io"
	"strings"

	"github.com/hangarflat/hangarflat/flat/brake"
	"github.com/hangarflat/hangarflat/material/measure"
)

// ReadBrake reads the dimensions of a shop's hand brake from a text file of the same
// kind as a part's: tables [nose], [bed] and [leaf], each size with its unit. Every
// fault is returned at once, each an [*Error] with its line and column.
func ReadBrake(name string, r io.Reader) (brake.Brake, error) {
	d, root := open(name, r)
	if root == nil {
		return brake.Brake{}, d.err()
	}
	b := d.brake(root)
	if err := d.err(); err != nil {
		return brake.Brake{}, err
	}
	return b, nil
}

func (d *decoder) brake(t *table) (b brake.Brake) {
	d.mark("", spot{at: t.n.at})
	b.Length = need(t, "length", length("48 in", above))
	b.Clear, _ = maybe(t, "clear", length("1 mm", notBelow))

	nose := t.needSub("nose", "nose")
	b.Nose.Depth = need(nose, "depth", length("2 in", above))
	b.Nose.Height = need(nose, "height", length("3 in", above))
	b.Nose.Most = need(nose, "most", angle("135 deg", turnedFarther))
	b.Nose.Lift = need(nose, "lift", length("1 1/2 in", above))
	b.Nose.Finger, _ = maybe(nose, "finger", length("1 in", aboveOrOut("one bar as long as the brake")))
	nose.done()

	bed := t.needSub("bed", "bed")
	b.Bed.Depth = need(bed, "depth", length("6 in", above))
	b.Bed.Height = need(bed, "height", length("4 in", above))
	bed.done()

	leaf := t.needSub("leaf", "leaf")
	b.Leaf.Depth = need(leaf, "depth", length("3 in", above))
	b.Leaf.Height = need(leaf, "height", length("2 in", above))
	leaf.done()
	t.done()

	for _, err := range leaves(b.Validate()) {
		var fault *brake.Error
		if errors.As(err, &fault) {
			path := strings.Replace(fault.Field, " ", ".", 1)                        // "nose depth" stands in [nose], depth
			unknown := d.silent(path) || path == "nose.finger" && d.silent("length") // it is held against the length
			if s, _ := d.find(path); !unknown {
				rule, _, _ := strings.Cut(fault.Rule, "; if inches were meant") // the file has units
				d.list = append(d.list, &Error{d.file, s.at.line, s.at.column, s.field, s.value, rule, fault})
			}
		}
	}
	return b
}

func turnedFarther(a measure.Angle) string {
	if a > 0 {
		return ""
	}
	return "must be above 0"
}
