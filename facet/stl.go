package facet

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// WriteSTL writes a surface as binary STL in millimetres, the unit that readers of this format take: 80 bytes of title, the number of
// triangles, and 50 bytes for each (3D Systems, StereoLithography Interface Specification, 1988; layout from memory).
func WriteSTL(w io.Writer, title string, surface []Triangle) error {
	if len(surface) == 0 || len(surface) > math.MaxUint32 {
		return fmt.Errorf("an STL file takes at least one triangle, not %d", len(surface))
	}
	out := make([]byte, 84, 84+50*len(surface))
	copy(out[:80], "mm, polewright: "+title) // a file that begins with "solid" would pass for one in text
	binary.LittleEndian.PutUint32(out[80:], uint32(len(surface)))
	for _, t := range surface {
		n := r3.Cross(r3.Sub(t[1], t[0]), r3.Sub(t[2], t[0]))
		if l := r3.Norm(n); l > 0 {
			n = r3.Scale(1/l, n)
		}
		for _, v := range []r3.Vec{n, r3.Scale(1e3, t[0]), r3.Scale(1e3, t[1]), r3.Scale(1e3, t[2])} {
			for _, x := range [3]float64{v.X, v.Y, v.Z} {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
			}
		}
		out = append(out, 0, 0)
	}
	_, err := w.Write(out)
	return err
}
