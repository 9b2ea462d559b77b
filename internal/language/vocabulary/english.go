package vocabulary

func english() table {
	return table{
		ZoneTreat: "treat", ZoneWatch: "watch", ZoneClear: "clear", ZoneNoData: "no data", ZoneUnscouted: "unscouted",

		VerdictNone: "none", VerdictUndecided: "undecided", VerdictNoSpray: "no spray", VerdictLookAgain: "look again",
		VerdictSpotSpray: "spot spray", VerdictTreatWhole: "treat the whole field",

		GroundNever: "never treat", GroundNew: "new", GroundGrown: "grown", GroundHeld: "held", GroundShrunk: "shrunk", GroundGone: "gone",

		HotspotBorn: "born", HotspotGrown: "grown", HotspotHeld: "held", HotspotShrunk: "shrunk", HotspotMerged: "merged",
		HotspotJoined: "joined", HotspotSplit: "split", HotspotBroken: "broken off", HotspotGone: "gone",

		TrustBetter:   "better than the field's mean",
		TrustNoBetter: "no better than the field's mean: decide on the whole field",
	}
}
