package vocabulary

// A Key names a word by its use, not by its spelling: "held" of treat ground and of a
// hotspot may differ in another language.
type Key uint8

// The keys.
const (
	// zones
	ZoneTreat Key = iota
	ZoneWatch
	ZoneClear
	ZoneNoData
	ZoneUnscouted // watch for no count but for lying too far from any stop

	// zones as people read them first: on maps, pages, sheets and in KML
	ShownTreat
	ShownWatch
	ShownClear
	LegendTreat // with the colour, and what says it where there is none
	LegendWatch
	LegendClear
	LegendOver // treat ground of a map whose answer is not to spray

	// verdicts
	VerdictNone
	VerdictUndecided
	VerdictNoSpray
	VerdictLookAgain
	VerdictSpotSpray
	VerdictTreatWhole

	// what became of treat ground between two visits
	GroundNever
	GroundNew
	GroundGrown
	GroundHeld
	GroundNotSeen
	GroundShrunk
	GroundGone

	// what happened to a hotspot between two visits
	HotspotBorn
	HotspotGrown
	HotspotHeld
	HotspotShrunk
	HotspotMerged
	HotspotJoined
	HotspotSplit
	HotspotBroken
	HotspotGone
	HotspotNotSeen

	// whether the map may be believed
	TrustBetter
	TrustBetterForDeciding
	TrustNoBetter
	TrustNothingToMap

	keys
)

// Keys are all of them.
func Keys() (out []Key) {
	for k := range keys {
		out = append(out, k)
	}
	return out
}
