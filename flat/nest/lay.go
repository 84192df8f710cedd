package nest

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/hangarflat/hangarflat/flat/outline"
	"github.com/hangarflat/hangarflat/material/measure"
	"gonum.org/v1/gonum/spatial/r2"
)

// A Placed blank lies on a sheet.
type Placed struct {
	Piece  int            // index of the piece
	Turned measure.Angle  // counter-clockwise, from how the blank is drawn
	Move   outline.Affine // from the blank's coordinates to the sheet's
}

// A Sheet is one sheet of stock with the blanks to be cut from it.
type Sheet struct {
	Placed []Placed // in the order they were laid
	Area   float64  // of the blanks within their outlines, mm²
	// Reach is how far from x = 0 metal is taken; from Reach and a gap on the sheet is
	// left whole, mm.
	Reach float64
}

// A Leftover is a piece that fits no sheet.
type Leftover struct {
	Piece  int
	Reason string
}

// A Layout is pieces on sheets.
type Layout struct {
	Stock  Stock
	Sheets []Sheet
	Left   []Leftover // in the order of the pieces
}

// Used returns the share of the sheets taken that becomes blanks, 0 to 1; 0 when no
// sheet is taken.
func (l Layout) Used() float64 {
	area := 0.0
	for _, s := range l.Sheets {
		area += s.Area
	}
	if len(l.Sheets) == 0 {
		return 0
	}
	return area / (float64(len(l.Sheets)) * l.Stock.Length * l.Stock.Width)
}

// Used returns the share of one sheet of the stock that becomes blanks, 0 to 1.
func (s Sheet) Used(of Stock) float64 { return s.Area / (of.Length * of.Width) }

// UsedOfReach returns the share that becomes blanks of what is cut off the sheet, the
// rest of its length being kept, 0 to 1.
func (s Sheet) UsedOfReach(of Stock) float64 {
	return s.Area / (min(s.Reach+of.Gap, of.Length) * of.Width)
}

// Lay lays pieces on as many sheets as it takes. The same pieces give the same
// layout. A few orders of laying are tried and the one that takes the fewest sheets,
// and of the last the least, is kept. The time grows with the number of pieces, and
// where they are few hundreds or less with its square at worst. It returns every fault of the
// stock and of the pieces, joined, each an [*Error].
func Lay(s Stock, pieces []Piece) (Layout, error) {
	faults := []error{s.Validate()}
	for i, p := range pieces {
		faults = append(faults, p.validate(i))
	}
	if err := errors.Join(faults...); err != nil {
		return Layout{}, err
	}
	n := nester{stock: s, bands: bandsOf(s), pieces: pieces}
	n.lyings()
	orders := []func(a, b int) int{n.byArea}
	if len(pieces) <= 500 {
		orders = append(orders, n.byLength, n.byHeight)
	}
	var best Layout
	for i, order := range orders {
		if l := n.run(order); i == 0 || l.better(best) {
			best = l
		}
	}
	return best, nil
}

// better prefers fewer sheets, then less of the last.
func (l Layout) better(than Layout) bool {
	if len(l.Sheets) != len(than.Sheets) || len(l.Sheets) == 0 {
		return len(l.Sheets) < len(than.Sheets)
	}
	last := len(l.Sheets) - 1
	return l.Sheets[last].Reach < than.Sheets[last].Reach-1e-9
}

// A nester lays the pieces of one call.
type nester struct {
	stock  Stock
	bands  bands
	pieces []Piece
	ways   [][]lying // of each piece, those that fit the sheet at all
	left   []Leftover
}

// lyings finds the ways each piece fits the sheet, and names those that do not.
func (n *nester) lyings() {
	length, width := n.stock.Length-2*n.stock.Margin, n.stock.Width-2*n.stock.Margin
	n.ways = make([][]lying, len(n.pieces))
	for i, p := range n.pieces {
		var tried lying
		for _, turn := range p.turns() {
			tried = n.bands.lay(p.Outline, turn)
			if tried.width <= length+hair && tried.height <= width+hair {
				n.ways[i] = append(n.ways[i], tried)
			}
		}
		if len(n.ways[i]) == 0 {
			n.left = append(n.left, Leftover{i, n.reason(p, tried)})
		}
	}
}

func (n *nester) reason(p Piece, l lying) string {
	room := Stock{Length: n.stock.Length - 2*n.stock.Margin, Width: n.stock.Width - 2*n.stock.Margin}
	if p.Grain.Stated {
		return fmt.Sprintf("takes %s along the grain by %s, and a sheet has %s inside its margins", measure.InchText(l.width, 2), measure.InchText(l.height, 2), room.size())
	}
	return fmt.Sprintf("is %s by %s, and a sheet has %s inside its margins", measure.InchText(l.width, 2), measure.InchText(l.height, 2), room.size())
}

func (n *nester) byArea(a, b int) int {
	return cmp.Or(cmp.Compare(n.pieces[b].Outline.Area(), n.pieces[a].Outline.Area()), cmp.Compare(a, b))
}

func (n *nester) byLength(a, b int) int {
	longer := func(i int) float64 { return max(n.ways[i][0].width, n.ways[i][0].height) }
	return cmp.Or(cmp.Compare(longer(b), longer(a)), cmp.Compare(a, b))
}

func (n *nester) byHeight(a, b int) int {
	return cmp.Or(cmp.Compare(n.ways[b][0].height, n.ways[a][0].height), cmp.Compare(n.ways[b][0].width, n.ways[a][0].width), cmp.Compare(a, b))
}

// An open sheet still takes blanks.
type open struct {
	index  int       // of the layout's sheets
	front  []float64 // how far along x each band is taken
	misses int       // pieces in a row that did not fit
}

// run lays the pieces in an order, each on the first sheet that has room.
func (n *nester) run(order func(a, b int) int) Layout {
	l := Layout{Stock: n.stock, Left: n.left}
	var sequence []int
	for i := range n.pieces {
		if len(n.ways[i]) > 0 {
			sequence = append(sequence, i)
		}
	}
	slices.SortFunc(sequence, order)
	const enough = 64 // a sheet that refuses so many in a row is full
	var sheets []*open
	for _, i := range sequence {
		placed := false
		for _, o := range sheets {
			if placed = n.place(&l.Sheets[o.index], o, i); placed {
				o.misses = 0
				break
			}
			o.misses++
		}
		if !placed {
			o := &open{index: len(l.Sheets), front: make([]float64, n.bands.count)}
			for k := range o.front {
				o.front[k] = math.Inf(-1)
			}
			l.Sheets = append(l.Sheets, Sheet{})
			n.place(&l.Sheets[o.index], o, i) // an empty sheet takes what fits at all
			sheets = append(sheets, o)
		}
		sheets = slices.DeleteFunc(sheets, func(o *open) bool { return o.misses >= enough })
	}
	return l
}

// place slides a piece as far along the sheet as those on it let it, in the way and
// at the height where it ends soonest. It reports false where there is no room.
func (n *nester) place(s *Sheet, o *open, i int) bool {
	var best lying
	at, row, end := 0.0, -1, math.Inf(1)
	limit := n.stock.Length - n.stock.Margin + hair
	for _, l := range n.ways[i] {
		free := n.stock.Width - 2*n.stock.Margin - l.height
		last := min(int(math.Floor(free/n.bands.high+1e-9)), n.bands.count-len(l.ends))
		for r := range max(0, last) + 1 {
			x := n.slide(o, l, r, end-l.width)
			if x+l.width < end-1e-9 && x+l.width <= limit {
				best, at, row, end = l, x, r, x+l.width
			}
		}
	}
	if row < 0 {
		return false
	}
	for k, e := range best.ends {
		o.front[row+k] = max(o.front[row+k], at+e)
	}
	to := r2.Vec{X: at, Y: n.stock.Margin + float64(row)*n.bands.high}
	move := outline.Rotate(r2.Vec{}, best.turn).Then(outline.Translate(r2.Add(best.shift, to)))
	s.Placed = append(s.Placed, Placed{Piece: i, Turned: best.turn, Move: move})
	s.Area += n.pieces[i].Outline.Area()
	s.Reach = max(s.Reach, end)
	return true
}

// slide finds the least x at which a piece is clear of all that lie on the sheet, its
// lowest band at the given one. It gives up beyond enough.
func (n *nester) slide(o *open, l lying, row int, enough float64) float64 {
	x := n.stock.Margin
	for k, reach := range l.reach {
		band := row + k - n.bands.near
		if band < 0 || band >= len(o.front) {
			continue
		}
		if x = max(x, o.front[band]-reach); x > enough {
			return x
		}
	}
	return x
}
