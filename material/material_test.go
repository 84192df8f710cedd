package material_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/hangarflat/hangarflat/material"
)

// Every known material is read back from what it prints, in any case.
func TestNamesComeBack(t *testing.T) {
	known := material.Known()
	require.NotEmpty(t, known)
	for _, m := range known {
		got, err := material.Lookup(m.String())
		require.NoError(t, err)
		assert.Equal(t, m, got)
		for _, other := range []string{lower(m.String()), " " + m.String() + " "} {
			got, err = material.Lookup(other)
			require.NoError(t, err, other)
			assert.Equal(t, m, got)
		}
	}
}

func lower(s string) string {
	b := []byte(s)
	for i, c := range b {
		if 'A' <= c && c <= 'Z' {
			b[i] = c + 'a' - 'A'
		}
	}
	return string(b)
}

// The families the trade asks for are all known.
func TestFamilies(t *testing.T) {
	for _, name := range []string{
		"1100-O", "2014-T6", "2017-T4", "2024-O", "2024-T3", "2024-T4", "3003-H14", "5052-H32", "5052-H34", "6061-T4", "6061-T6", "7075-T6",
		"alclad 2024-T3", "alclad 7075-T6", "4130 normalized", "4130 annealed", "301 1/4 hard", "302 annealed", "304", "321",
		"Ti Gr 1", "Ti Gr 2", "Ti Gr 4", "Ti-6Al-4V", "AZ31B-O", "AZ31B-H24",
	} {
		m, err := material.Lookup(name)
		require.NoError(t, err, name)
		_, _, err = m.Density()
		assert.NoError(t, err, name)
	}
}

// One steel goes by several names: 4130N is common practice for what the tables call normalized.
func TestLookupOfNormalizedSteel(t *testing.T) {
	for _, name := range []string{"4130 normalized", "4130-normalized", "4130 Normalised", "4130N", "4130n", "4130-N", "4130 N"} {
		m, err := material.Lookup(name)
		require.NoError(t, err, name)
		assert.Equal(t, material.Material{Alloy: "4130", Temper: "normalized"}, m, name)
	}
}

func TestLookupRefuses(t *testing.T) {
	for name, want := range map[string]string{
		"":               "name an alloy",
		"2024":           "the temper is missing: 2024-O",
		"2024T3":         "did you mean 2024-T3?",
		"2023-T3":        "did you mean 2024-T3?",
		"24S-T":          "2024-T4 as bought flat",
		"DTD 390":        "about BS L163",
		"L72":            "from memory",
		"alclad 6061-T6": "clad form",
		"\x00\xff":       "is in none of the tables",
		"-":              "is in none of the tables",
	} {
		_, err := material.Lookup(name)
		var fault *material.Error
		require.ErrorAs(t, err, &fault, "%q", name)
		assert.Equal(t, "material", fault.Field)
		assert.Contains(t, err.Error(), want, "%q", name)
	}
	assert.Equal(t, "no material", material.Material{}.String())
}

// No name makes Lookup panic, and what it finds it finds again.
func FuzzLookup(f *testing.F) {
	for _, s := range []string{"2024-T3", "alclad 2024-T3", "Ti-6Al-4V ELI", "301 1/4 hard", "24S-T", "- -", "alclad "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := material.Lookup(s)
		if err != nil {
			return
		}
		again, err := material.Lookup(m.String())
		if err != nil || again != m {
			t.Errorf("%q is %v, which is %v, %v", s, m, again, err)
		}
	})
}

// What a British specification's source states is found by any of its names, with
// its provenance; nothing is recommended.
func TestSpecifications(t *testing.T) {
	for name, provenance := range map[string]material.Provenance{
		"L109:1971": material.Read, "L109": material.Read, "L158": material.Read, "L72": material.Memory, "DTD 610": material.Memory, "BS L113:1971": material.Read, "L3": material.Memory,
	} {
		found := material.Specifications(name)
		require.Len(t, found, 1, name)
		assert.Equal(t, provenance, found[0].Source.Provenance, name)
	}
	assert.Empty(t, material.Specifications("L999"))
	all := material.Specifications("")
	assert.Len(t, all, 15+8, "rows of british_sheet_specs.csv and of old_us_designations.csv")
	for _, s := range all {
		assert.NotZero(t, s.Source.Provenance)
		assert.NotEmpty(t, s.Source.Document)
	}
}

func ExampleLookup() {
	for _, name := range []string{"alclad 2024-t3", "Ti-6Al-4V", "2024", "2023-T3"} {
		m, err := material.Lookup(name)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(m)
	}
	// Output:
	// alclad 2024-T3
	// Ti-6Al-4V annealed
	// material "2024": the temper is missing: 2024-O, 2024-T3, 2024-T361, 2024-T4, 2024-T6, 2024-T81, 2024-T861
	// material "2023-T3": is in none of the tables; did you mean 2024-T3?
}

func ExampleSpecifications() {
	for _, s := range material.Specifications("L72") {
		fmt.Println(s)
	}
	// Output: DTD 610 -> L72: clad 2014A-T4 sheet; now L163/L164 [from memory of British sheet specifications: check before use]
}
