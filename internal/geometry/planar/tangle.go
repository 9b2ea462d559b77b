package planar

import (
	"fmt"

	"github.com/paulmach/orb"
)

// MostCrossings is how often an outline may cross itself: a phone that is carried
// along an edge draws some dozen crossings wherever it rests. Judgement, no source.
const MostCrossings = 10_000

// tangled is an error where lines cross more often than a drawing does. It looks no
// further than that, as the faces between crossings can grow as their number does.
func tangled(lines []orb.LineString) error {
	step, err := latticeFor(lines)
	if err != nil {
		return err
	}
	if n := len(crossings(unique(segmentsOn(lines, step)), MostCrossings+1)); n > MostCrossings {
		return fmt.Errorf("the outline crosses itself more than %d times, which no drawing does; draw it anew", MostCrossings)
	}
	return nil
}
