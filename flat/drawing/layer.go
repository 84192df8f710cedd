package drawing

// A Layer sorts what is drawn by what the shop does with it.
type Layer uint8

const (
	Cut         Layer = iota // cut through: the blank's edge, and openings that are not round
	Hole                     // drill or cut round
	BendTangent              // where a bend begins and ends
	BendCenter               // midway between the tangents
	Sight                    // set under the nose of the brake
	Mold                     // mold line of the web, as the drawing dimensions it
	Rivet                    // rivet holes and rows
	Note                     // lettering and marks that are never cut
	Grain                    // direction the sheet was rolled in
	Block                    // form block and tooling
	Mark                     // scribed or pencilled and formed later, such as the ends of a joggle; never cut
	layerCount
)

var layerNames = [layerCount]string{
	"CUT", "HOLE", "BEND_TANGENT", "BEND_CENTER", "SIGHT", "MOLD", "RIVET", "NOTE", "GRAIN", "BLOCK", "MARK",
}

// Layers returns all layers in their order.
func Layers() []Layer {
	all := make([]Layer, layerCount)
	for i := range all {
		all[i] = Layer(i)
	}
	return all
}

// String returns the layer's name as it stands in a file: "BEND_TANGENT". A layer
// that does not exist is named "NOTE".
func (l Layer) String() string {
	if l >= layerCount {
		return layerNames[Note]
	}
	return layerNames[l]
}
