package main

// file is the input as it is written; every size is still text.
type file struct {
	Name       string     `toml:"name"`
	Title      string     `toml:"title"`
	Pieces     []int      `toml:"pieces"`
	Method     text       `toml:"method"`
	Sheet      sheetFile  `toml:"sheet"`
	Bends      bendsFile  `toml:"bends"`
	Outer      rimFile    `toml:"outer"`
	Inner      rimFile    `toml:"inner"`
	Cutouts    []cutFile  `toml:"cutout"`
	Split      splitFile  `toml:"split"`
	Block      blockFile  `toml:"block"`
	Substitute *sheetFile `toml:"substitute"`
}

type sheetFile struct {
	Material  text `toml:"material"`
	Thickness text `toml:"thickness"`
}

type bendsFile struct {
	Rule    text    `toml:"rule"`
	Neutral float64 `toml:"neutral"`
}

type rimFile struct {
	Mirror    bool        `toml:"mirror"`
	Start     []text      `toml:"start"`
	Legs      []legFile   `toml:"leg"`
	Points    [][]text    `toml:"points"`
	Tolerance text        `toml:"tolerance"`
	Inset     text        `toml:"inset"`
	Flange    *flangeFile `toml:"flange"`
}

type legFile struct {
	To     []text `toml:"to"`
	Radius text   `toml:"radius"`
	Turn   text   `toml:"turn"`
	Long   bool   `toml:"long"`
}

type flangeFile struct {
	Turn   text        `toml:"turn"`
	Height text        `toml:"height"`
	Radius text        `toml:"radius"`
	Bevel  text        `toml:"bevel"`
	Bevels [][]text    `toml:"bevels"`
	Model  text        `toml:"model"`
	Trim   text        `toml:"trim"`
	Rivets *rivetsFile `toml:"rivets"`
}

type rivetsFile struct {
	Diameter text `toml:"diameter"`
	Pitch    text `toml:"pitch"`
	Line     text `toml:"line"`
}

type cutFile struct {
	Name      string `toml:"name"`
	Girth     text   `toml:"girth"`
	Angle     text   `toml:"angle"`
	Centre    []text `toml:"centre"`
	Both      bool   `toml:"both"`
	Width     text   `toml:"width"`
	Depth     text   `toml:"depth"`
	Clearance text   `toml:"clearance"`
	Radius    text   `toml:"radius"`
	Cut       *bool  `toml:"cut"`
}

type splitFile struct {
	Stock      []text `toml:"stock"`
	BlockStock []text `toml:"block_stock"`
	Gap        text   `toml:"gap"`
	Neighbours []text `toml:"neighbours"`
	Stagger    text   `toml:"stagger"`
	Rivet      text   `toml:"rivet"`
	Joints     []text `toml:"joints"`
}

type blockFile struct {
	Depth    text     `toml:"depth"`
	Overbend text     `toml:"overbend"`
	Size     text     `toml:"size"`
	Pin      text     `toml:"pin"`
	Pins     [][]text `toml:"pins"`
	Cover    text     `toml:"cover"`
}

// text is a value as it stands in the file; a bare number is kept too, so that it can be
// refused with its place.
type text string

func (t *text) UnmarshalText(b []byte) error {
	*t = text(b)
	return nil
}
