package survey

// A PositionFix is another way to read a position that cannot be meant as it stands.
type PositionFix struct {
	Longitude, Latitude float64
	What                string // what is wrong, such as "latitude and longitude are swapped"
	Fix                 string // how to have it read so
	Apply               bool   // read it so, and say so
}

// FixPosition looks at a position as it stands and may offer another. Rows are read at
// the same time, so it is called from several goroutines.
type FixPosition func(longitude, latitude float64) (PositionFix, bool)

// offered reads a position as the options offer: the row is used with a doubt
// where the offer is to be applied, and refused with it where it is not.
func (rd *reader) offered(lon, lat float64) (float64, float64) {
	if rd.fixPosition == nil {
		return lon, lat
	}
	offer, ok := rd.fixPosition(lon, lat)
	c := colLongitude
	if rd.has(colWKT) {
		c = colWKT
	}
	switch {
	case !ok:
		return lon, lat
	case offer.Apply:
		rd.doubt(c, offer.What+"; read so", "correct the file")
		return offer.Longitude, offer.Latitude
	}
	rd.refuse(c, offer.What, offer.Fix)
	return offer.Longitude, offer.Latitude // a place at least, so nothing else is said of it
}
