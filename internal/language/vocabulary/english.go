package vocabulary

func english() table {
	return table{
		ZoneTreat: "treat", ZoneWatch: "watch", ZoneClear: "clear", ZoneNoData: "no data", ZoneUnscouted: "unscouted",

		ShownTreat: "spray", ShownWatch: "watch", ShownClear: "clear",
		LegendTreat: "Spray (red, hatched)", LegendWatch: "Watch (yellow, dotted)", LegendClear: "Clear (pale blue, plain)",
		LegendOver: "At or above the spray level (red, hatched)",

		VerdictNone: "none", VerdictUndecided: "undecided", VerdictNoSpray: "no spray", VerdictLookAgain: "look again",
		VerdictSpotSpray: "spot spray", VerdictTreatWhole: "treat the whole field",

		GroundNever: "never treat", GroundNew: "new", GroundGrown: "grown", GroundHeld: "held", GroundNotSeen: "not looked at again", GroundShrunk: "shrunk", GroundGone: "gone",

		HotspotBorn: "born", HotspotGrown: "grown", HotspotHeld: "held", HotspotShrunk: "shrunk", HotspotMerged: "merged",
		HotspotJoined: "joined", HotspotSplit: "split", HotspotBroken: "broken off", HotspotGone: "gone", HotspotNotSeen: "not looked at again",

		TrustBetter:            "better than the field's mean",
		TrustBetterForDeciding: "better than the field's mean for deciding where to treat",
		TrustNoBetter:          "no better than the field's mean: do not go by its zones alone",
		TrustNothingToMap:      "few found anywhere, so there is nothing to map",
	}
}
