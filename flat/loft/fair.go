package loft

import (
	"fmt"
	"math"
	"slices"
)

// A Method is how a fair line uses its readings.
type Method uint8

const (
	// WithinTolerance takes, of all lines that stay within every reading's
	// tolerance, the one that bends least: a batten let go between stops.
	WithinTolerance Method = iota
	// ThroughReadings passes the line through the mean reading of every station.
	ThroughReadings
	// Balanced finds how far the readings are to be trusted from the readings
	// themselves, by generalised cross-validation; each station counts by its
	// number of readings and, where all have one, by its tolerance. For many
	// readings with a random error.
	Balanced
)

// A HoldKind is what is held at a station.
type HoldKind uint8

const (
	HoldOffset HoldKind = iota // the offset, mm
	HoldSlope                  // the rise per length: tangency with what follows
	HoldBend                   // the second derivative, 1/mm
)

// A Hold fixes the line at one station whatever the readings say. A line without a
// hold of slope or bend at an end runs out straight there, as a batten does.
type Hold struct {
	Station float64
	Kind    HoldKind
	Value   float64
}

// FairOptions says how a line is to be faired. The zero value bends least within
// the tolerances.
type FairOptions struct {
	Method   Method
	Holds    []Hold
	Straight []Span    // stretches that are straight on the aircraft and stay so, or are refused
	Knuckles []float64 // stations at which the slope may jump, such as a chine or step
}

// A Fairing is a fair line and how it lies to its readings.
type Fairing struct {
	Curve
	Stations  []Station
	Residuals []float64 // of every reading, reading less line, mm
	RMS       float64   // of the residuals, mm
	Worst     int       // the reading with the largest residual over its tolerance
	Doubts    []Doubt   // readings the others speak against, worst first; none among fewer than seven stations
}

// leastWithin stands in for a tolerance of 0 where shares of it are compared, mm.
const leastWithin = 1e-6

// straightStiffness is how many times stiffer a straight stretch is: it then bends
// a millionth of what the rest does.
const straightStiffness = 1e6

// Fair lays a fair line through readings, which must be in order of station;
// several readings at one station are allowed. It needs three different stations.
// Faults are [*Error]s, joined. Doubtful readings are not left out: they are named,
// for the maker to measure again.
func Fair(readings []Reading, opt FairOptions) (Fairing, error) {
	var f faults
	checkReadings(readings, &f)
	if err := f.err(); err != nil {
		return Fairing{}, err
	}
	st := gatherStations(readings)
	if len(st) < 3 {
		return Fairing{}, &Error{"stations", fmt.Sprintf("%d different", len(st)), "at least 3 are needed to fair a line"}
	}
	opt.check(st, &f)
	if err := f.err(); err != nil {
		return Fairing{}, err
	}
	curve, err := fairThrough(st, opt)
	if err != nil {
		return Fairing{}, err
	}
	opt.checkStraight(curve, st, &f)
	if err := f.err(); err != nil {
		return Fairing{}, err
	}
	out := Fairing{Curve: curve, Stations: st, Residuals: make([]float64, len(readings))}
	var sq, most float64
	for i := range st {
		s := &st[i]
		s.Faired = curve.At(s.At)
		s.Residual = s.Offset - s.Faired
		for _, k := range s.Readings {
			e := readings[k].Offset - s.Faired
			out.Residuals[k] = e
			sq += e * e
			if share := math.Abs(e) / max(readings[k].Within, leastWithin); share > most {
				most, out.Worst = share, k
			}
		}
	}
	out.RMS = math.Sqrt(sq / float64(len(readings)))
	pieces := smoothPieces(st, opt.Knuckles)
	differences(st, pieces)
	leaveOut(st, opt)
	for _, use := range pieces {
		out.Doubts = append(out.Doubts, doubts(st, use)...)
	}
	worstFirst(out.Doubts)
	return out, nil
}

func (o FairOptions) check(st []Station, f *faults) {
	from, to := st[0].At, st[len(st)-1].At
	onLine := fmt.Sprintf("must lie on the line, %s to %s", mm(from), mm(to))
	if o.Method > Balanced {
		f.add("method", fmt.Sprintf("%d", o.Method), "must be WithinTolerance, ThroughReadings or Balanced")
	}
	for i, h := range o.Holds {
		if !within(h.Station, from, to) {
			f.add(fmt.Sprintf("hold %d station", i), mm(h.Station), onLine)
		}
		if !isLength(h.Value) {
			f.add(fmt.Sprintf("hold %d value", i), fmt.Sprintf("%g", h.Value), lengthRule)
		}
		if h.Kind > HoldBend {
			f.add(fmt.Sprintf("hold %d kind", i), fmt.Sprintf("%d", h.Kind), "must be HoldOffset, HoldSlope or HoldBend")
		}
	}
	if len(o.Holds) > 100 {
		f.add("holds", fmt.Sprintf("%d", len(o.Holds)), "at most 100")
	}
	for i, s := range o.Straight {
		if !(within(s.From, from, to) && within(s.To, from, to)) {
			f.add(fmt.Sprintf("straight %d", i), mm(s.From)+" to "+mm(s.To), onLine)
		} else if !(s.From < s.To) {
			f.add(fmt.Sprintf("straight %d", i), mm(s.From)+" to "+mm(s.To), "must run from the lesser station to the greater")
		}
	}
	if len(o.Straight) > 0 && o.Method == ThroughReadings {
		f.add("straight", fmt.Sprintf("%d stretches", len(o.Straight)), "a line through every reading cannot be kept straight: fair it within tolerances")
	}
	for i, k := range o.Knuckles {
		if !(k > from && k < to) {
			f.add(fmt.Sprintf("knuckle %d", i), mm(k), onLine+", and not at its ends")
		}
	}
	for i, s := range st {
		if o.Method == WithinTolerance && s.Low > s.High {
			f.add(fmt.Sprintf("station %d at %s", i, mm(s.At)), fmt.Sprintf("readings %s apart", mm(s.Spread)),
				"they differ by more than their tolerances allow: measure again, or widen the tolerance")
		}
	}
}

// straightLeast and straightShare are how far a stretch that is to be straight may leave its chord: mm,
// and as a share of its length. What the rest of a line does to it is less.
const (
	straightLeast = 0.01
	straightShare = 1e-5
)

// checkStraight faults the stretches that came out bent: stiffness alone does not keep a line straight
// that its readings bend.
func (o FairOptions) checkStraight(c Curve, st []Station, f *faults) {
	for i, s := range o.Straight {
		sag := c.sag(s)
		if sag <= straightLeast+straightShare*s.Length() {
			continue
		}
		rule := fmt.Sprintf("the line bends there by %.2f mm: fair it within tolerances, with no hold that bends it", sag)
		if at, off := farthestOff(st, s); off > 0 {
			rule = fmt.Sprintf("the readings do not lie on a straight line within their tolerances, least of all at station %s: measure it again, or widen the tolerance", mm(at))
		}
		f.add(fmt.Sprintf("straight %d", i), mm(s.From)+" to "+mm(s.To), rule)
	}
}

// farthestOff returns the station of a stretch that lies farthest past its tolerance from the straight
// line of least squares, in tolerances, and by how many; nothing when none does.
func farthestOff(st []Station, s Span) (at, off float64) {
	var x, y, room []float64
	for _, v := range st {
		if within(v.At, s.From, s.To) {
			x, y, room = append(x, v.At), append(y, (v.Low+v.High)/2), append(room, v.tolerance())
		}
	}
	if len(x) < 3 {
		return 0, 0
	}
	line := leastSquares(x, y, room)
	for i := range x {
		r := max(room[i], leastWithin)
		if share := (math.Abs(y[i]-line.at(x[i])) - r) / r; share > off {
			at, off = x[i], share
		}
	}
	return at, off
}

// fairThrough fairs the stations; they and the options must have been checked.
func fairThrough(st []Station, opt FairOptions) (Curve, error) {
	n := len(st)
	x, y, w := make([]float64, n), make([]float64, n), make([]float64, n)
	toleranced := true
	for i, s := range st {
		x[i], y[i], w[i] = s.At, s.Offset, 1
		toleranced = toleranced && s.tolerance() > 0
	}
	b := opt.basis(x)
	p := problem{basis: b, k: b.bending()}
	for _, h := range opt.Holds {
		p.holds = append(p.holds, hold{at: h.Station, order: int(h.Kind), value: h.Value})
	}
	if opt.Method == Balanced {
		for i, s := range st {
			w[i] = float64(len(s.Readings))
			if toleranced {
				w[i] /= s.tolerance() * s.tolerance()
			}
		}
		s, err := p.smooth(x, [][]float64{y}, SmoothOptions{Weights: w})
		if err != nil {
			return Curve{}, err
		}
		return s[0].Curve, nil
	}
	if opt.Method == WithinTolerance {
		for i, s := range st { // with uneven tolerances the middle is not the mean
			y[i] = (s.Low + s.High) / 2
		}
	}
	c, short, at, err := p.through(x, y)
	if err != nil {
		return Curve{}, err
	}
	if len(opt.Holds) == 0 && !(short <= fallsShort) {
		return Curve{}, &Error{fmt.Sprintf("station at %s", mm(x[at])), fmt.Sprintf("falls %s short", mm(short)), "no line can be drawn through the readings: is it too near its neighbour?"}
	}
	if opt.Method == WithinTolerance {
		room := make([]float64, n)
		for i, s := range st {
			room[i] = s.tolerance()
		}
		if line, ok := straightWithin(x, y, room); ok && len(opt.Holds) == 0 {
			return line, nil
		}
		if c, err = p.relax(c, x, y, room); err != nil {
			return Curve{}, err
		}
	}
	return b.curve(c), nil
}

// basis puts a break at every station and wherever something changes. Where a straight stretch ends the bend
// may jump, as it does where a batten is thinned at once.
func (o FairOptions) basis(x []float64) basis {
	var ends []float64
	for _, s := range o.Straight {
		ends = append(ends, s.From, s.To)
	}
	slices.Sort(ends)
	knuckles := slices.Clone(o.Knuckles)
	slices.Sort(knuckles)
	breaks := slices.Concat(x, ends, knuckles)
	slices.Sort(breaks)
	b := newBasis(slices.Compact(breaks), knuckles, ends)
	if len(o.Straight) > 0 {
		b.stiff = make([]float64, len(b.first))
		for s := range b.stiff {
			b.stiff[s] = 1
			for _, str := range o.Straight {
				if str.From <= b.breaks[s] && b.breaks[s+1] <= str.To {
					b.stiff[s] = straightStiffness
				}
			}
		}
	}
	return b
}

func errNotFixed() error {
	return &Error{"holds", "", "readings, holds and knuckles do not fix one line: do two of them say the same, or contradict each other?"}
}

// fallsShort is how far a line through readings may miss one, mm: less is the last digits.
const fallsShort = 1e-6

// limp is the stiffness, as a share of the data's, with which a line is drawn
// through its readings; what is left over is then put back until nothing is left. Where that takes too
// long, as with two stations hard by each other, the line is made limper by the same share again.
const (
	limp      = 1e-4
	limpest   = 3  // times
	putBacks  = 20 // at each
	onReading = 1e-13
)

// through returns the spline that bends least among those through every y, and how far it falls short of
// the worst of them.
func (p *problem) through(x, y []float64) (c []float64, short float64, at int, err error) {
	target := slices.Clone(y)
	var size float64
	for _, v := range y {
		size = max(size, math.Abs(v))
	}
	p.base = nil
	p.a, p.rhs, p.zz = p.basis.normal(p.basis.collect(x, target, nil, nil))
	lambda := p.scale()
	for range limpest {
		lambda *= limp
		for i := range target {
			target[i] = y[i] + limp*(target[i]-y[i]) // the forces stay
		}
		for range putBacks {
			p.a, p.rhs, p.zz = p.basis.normal(p.basis.collect(x, target, nil, nil))
			s, ok := p.at(lambda)
			if !ok {
				return nil, 0, 0, errNotFixed()
			}
			c, short = s.c, 0
			// Augmented Lagrangian: aim as much further as the line fell short.
			curve := p.basis.curve(c)
			for i := range x {
				miss := y[i] - curve.At(x[i])
				target[i] += miss
				if math.Abs(miss) > short {
					short, at = math.Abs(miss), i
				}
			}
			if short <= onReading*size {
				return c, short, at, nil
			}
		}
		// A hold may keep the line off a reading for good.
		if short <= fallsShort || len(p.holds) > 0 {
			break
		}
	}
	return c, short, at, nil
}
