package outline

import (
	"errors"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// No random figure of lines and arcs, at any distance, may fail to have its offset proved.
// OUTLINE_CASES sets how many are tried.
func TestNoOffsetIsLeftUnproved(t *testing.T) {
	rnd := random(t)
	cases := few(4000)
	if s := os.Getenv("OUTLINE_CASES"); s != "" {
		n, err := strconv.Atoi(s)
		require.NoError(t, err)
		cases = n
	}
	ran, bad, empty := 0, 0, 0
	for k := range cases {
		p := randomPath(rnd, 3+rnd.IntN(30), []float64{0, 0.5, 1}[k%3], []float64{0.1, 0.5, 0.9}[k/3%3])
		if p.Validate() != nil {
			continue
		}
		d := (2*rnd.Float64() - 1) * []float64{1, 10, 50, 100}[k%4]
		o := OffsetOptions{}
		if k%5 == 0 {
			o.Miter = 2
		}
		ran++
		_, err := p.Offset(d, o)
		if errors.Is(err, ErrNothingLeft) {
			empty++
		} else if err != nil {
			bad++
			t.Logf("%v %g %v: %v", p, d, o, err)
		}
	}
	t.Logf("%d cases, %d not proved, %d empty", ran, bad, empty)
	require.Greater(t, ran, cases/3)
	require.Zero(t, bad)
}
