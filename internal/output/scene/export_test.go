package scene

// TextBox is the ground that a text covers: left, top, right and bottom in mm. Letters
// are three quarters of their size above the line and a fifth below.
func TextBox(t Text) (x0, y0, x1, y1 float64) {
	r, err := newRuler()
	if err != nil {
		panic(err) // fonts that are part of the program
	}
	w := r.width(t.Text, t.Size, t.Bold)
	x0 = t.At.X - w*float64(t.Anchor)/2
	return x0, t.At.Y - 0.75*t.Size, x0 + w, t.At.Y + 0.2*t.Size
}
