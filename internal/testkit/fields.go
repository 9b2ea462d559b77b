package testkit

import "flag"

// Here and not beside the simulations, so that every test program knows it: a command
// over several packages hands it to them all, and who does not know a flag fails.
var fields = flag.Int("fields", 0, "invented fields that a simulation draws, of each kind where it says so; 0 is a quick look")

// Fields is how many invented fields a simulation is asked to draw; 0 where nobody asks,
// and a quick look will do.
func Fields() int { return *fields }
