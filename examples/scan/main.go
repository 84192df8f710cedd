// Command scan cuts a scan of a hull at a station, shows how far one side is bent
// against the other, fairs the good side, and makes the contour of a new former of
// it, inside the skin.
//
//	go run ./examples/scan                                   # the demo, into out/
//	go run ./examples/scan -station "4200 mm" -unit m HULL.ply
//
// Reads .ply, .xyz, .txt (three numbers a line) and .csv. The scan has X aft, Y to
// starboard and Z up, with the centre plane at Y = 0. Without a file it makes its
// own scan, invented, a million points; -save writes that to a file.
//
// It writes the section as measured and faired and the distortion map (CSV), the
// former's mold line and blank (DXF, and PDF at full size on A4 or what -paper takes), a picture of the distortion, and with -made, or
// for the demo, one of a made blank compared with the wanted one (SVG). Nothing is
// written unless every file can be made.
package main

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"github.com/hangarflat/hangarflat/dxfout"
	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat/paper"
	"github.com/hangarflat/hangarflat/flat/survey"
	"github.com/hangarflat/hangarflat/material/measure"
)

func main() {
	command.End(run(os.Args[1:], os.Stdout))
}

// job is what the maker asks for.
type job struct {
	folder    string
	station   float64 // mm
	half      float64 // half the slab, mm
	thickness float64 // of the skin, mm
	tolerance float64 // of a made blank, mm
	good      hand    // the side that is trusted
	pattern   paper.PatternOptions
}

// A hand is a side of the hull.
type hand float64

const (
	starboard hand = 1
	port      hand = -1
)

func (h hand) String() string {
	if h == port {
		return "port"
	}
	return "starboard"
}

func run(args []string, screen io.Writer) error {
	flags := flag.NewFlagSet("scan", flag.ContinueOnError)
	folder := flags.String("o", "out", "folder the files are written to")
	station := flags.String("station", "4200 mm", "where to cut, along X")
	slab := flags.String("slab", "8 mm", "thickness of the slab whose points count")
	skinT := flags.String("skin", "0.040 in", "thickness of the skin")
	tol := flags.String("tol", "0.8 mm", "tolerance of a made blank, plus or minus")
	unit := flags.String("unit", "mm", "unit of the scan's numbers (a .csv says its own)")
	side := flags.String("good", "starboard", "the side that is trusted: port or starboard")
	made := flags.String("made", "", "points measured round a made blank, x [mm],y [mm],z [mm] (.csv); the demo invents some")
	save := flags.String("save", "", "also write the demo's scan to this .xyz file")
	sheets := command.Sheets{Paper: "A4"}
	sheets.Flags(flags)
	if err := command.Parse(flags, "[scan.xyz]", args); err != nil {
		return err
	}
	j := job{folder: *folder, good: starboard}
	var err error
	if j.pattern, err = sheets.Options(); err != nil {
		return err
	}
	for _, l := range []struct {
		flag, text string
		into       *float64
	}{{"station", *station, &j.station}, {"slab", *slab, &j.half}, {"skin", *skinT, &j.thickness}, {"tol", *tol, &j.tolerance}} {
		v, err := measure.ParseLength(l.text)
		if err != nil {
			return fmt.Errorf("-%s: %w", l.flag, err)
		}
		*l.into = v
	}
	j.half /= 2
	switch *side {
	case "port":
		j.good = port
	case "starboard":
	default:
		return fmt.Errorf("-good: %q: must be port or starboard", *side)
	}
	names := flags.Args()
	if len(names) > 1 {
		return fmt.Errorf("%q: one scan is cut at a time, and what begins with - stands before its name", names[1])
	}
	demo := len(names) == 0
	if *save != "" && !demo {
		return fmt.Errorf("-save: writes the demo's scan, and %s was given", names[0])
	}
	cloud, name, err := cloudOf(names, *unit)
	if err != nil {
		return err
	}
	r, err := j.work(cloud)
	if err != nil {
		return err
	}
	if *made != "" || demo {
		if err := r.compare(*made); err != nil {
			return err
		}
	}
	if err := r.write(name); err != nil {
		return err
	}
	if *save != "" {
		if err := paper.Save(*save, func(w io.Writer) error { return writeXYZ(w, cloud) }); err != nil {
			return err
		}
	}
	return r.report(screen)
}

// cloudOf reads the scan named, or makes the demo's.
func cloudOf(names []string, unit string) (cloud []r3.Vec, name string, err error) {
	if len(names) == 0 {
		return makeCloud(demoPoints, demoSeed), "corrie-4200", nil
	}
	size, err := measure.ParseLengthUnit(unit)
	if err != nil {
		return nil, "", fmt.Errorf("-unit: %w", err)
	}
	f, err := os.Open(names[0])
	if err != nil {
		return nil, "", err
	}
	defer f.Close()
	ext := filepath.Ext(names[0])
	switch strings.ToLower(ext) {
	case ".ply":
		cloud, err = survey.ReadPLY(f, size)
	case ".csv":
		cloud, err = survey.ReadCSV(f)
	case ".xyz", ".txt":
		cloud, err = survey.ReadXYZ(f, size)
	default:
		err = fmt.Errorf("%q is not a kind of scan this reads: .ply, .xyz, .txt or .csv", ext)
	}
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", names[0], err)
	}
	return cloud, strings.TrimSuffix(filepath.Base(names[0]), ext), nil
}

func writeXYZ(w io.Writer, cloud []r3.Vec) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, "# invented scan of the Corrie's after-body, mm")
	for _, p := range cloud {
		fmt.Fprintf(b, "%.3f %.3f %.3f\n", p.X, p.Y, p.Z)
	}
	return b.Flush()
}

func (r *result) write(name string) error {
	files := []paper.File{
		{Name: name + "-section.csv", Write: r.section},
		{Name: name + "-distortion.csv", Write: r.distortion},
		{Name: name + "-distortion.svg", Write: r.drawDistortion},
	}
	files = append(files, command.Drawn(r.blank(name+"-former"), dxfout.Options{}, r.pattern)...)
	if r.madeBy != "" {
		files = append(files, paper.File{Name: name + "-made.svg", Write: r.drawMade})
	}
	return paper.SaveAll(r.folder, files)
}
