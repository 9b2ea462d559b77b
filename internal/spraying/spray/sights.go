package spray

// sights are whether a corner sees each of others, of those asked for. A corner has them
// once it is asked, since most are asked for none.
type sights []sight

type sight uint8

const (
	notAsked sight = iota
	open
	blocked
)

// sight is what is known of two corners.
func (r *router) sight(i, k int) sight {
	if row := r.sights[max(i, k)]; row != nil {
		return row[min(i, k)]
	}
	return notAsked
}

// see reports whether nothing lies between two corners.
func (r *router) see(i, k int) bool {
	i, k = max(i, k), min(i, k)
	if r.sights[i] == nil {
		r.sights[i] = make(sights, i+1)
	}
	known := &r.sights[i][k]
	if *known == notAsked {
		*known = blocked
		if r.free(r.corners[i], r.corners[k]) {
			*known = open
		}
	}
	return *known == open
}
