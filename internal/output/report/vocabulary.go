package report

import (
	"github.com/geocoris/geocoris/internal/followup/change"
	"github.com/geocoris/geocoris/internal/geometry/zones"
	"github.com/geocoris/geocoris/internal/language/figures"
	"github.com/geocoris/geocoris/internal/language/vocabulary"
	"github.com/geocoris/geocoris/internal/mapping/verdict"
)

// said is the language of what is rendered in one alone.
const said = vocabulary.English

// ZoneWord is what people read for a zone; files keep [zones.Class.String].
func ZoneWord(c zones.Class) string {
	keys := map[zones.Class]vocabulary.Key{zones.Treat: vocabulary.ZoneTreat, zones.Watch: vocabulary.ZoneWatch, zones.Clear: vocabulary.ZoneClear, zones.NoData: vocabulary.ZoneNoData}
	return word(keys, c)
}

// ShownZone is the word for a zone on what is read first: red ground is to be sprayed.
func ShownZone(c zones.Class, u figures.Units) string {
	keys := map[zones.Class]vocabulary.Key{zones.Treat: vocabulary.ShownTreat, zones.Watch: vocabulary.ShownWatch, zones.Clear: vocabulary.ShownClear, zones.NoData: vocabulary.ZoneNoData}
	return wordIn(keys, c, u.Language())
}

// LegendZone is [ShownZone] with the colour, and with the hatch or dots that say it to
// those who see no colour and on grey prints.
func LegendZone(c zones.Class, u figures.Units) string {
	keys := map[zones.Class]vocabulary.Key{zones.Treat: vocabulary.LegendTreat, zones.Watch: vocabulary.LegendWatch, zones.Clear: vocabulary.LegendClear, zones.NoData: vocabulary.ZoneNoData}
	return wordIn(keys, c, u.Language())
}

// LegendOf is [LegendZone] on a map with an answer, nil for none: red ground is not said to
// be sprayed where the answer is not to spray.
func LegendOf(c zones.Class, v *verdict.Verdict, u figures.Units) string {
	if c == zones.Treat && v != nil && v.Kind != verdict.SpotSpray && v.Kind != verdict.TreatWhole {
		return u.Language().Word(vocabulary.LegendOver)
	}
	return LegendZone(c, u)
}

// GroundWord is what people read for what became of treat ground; files keep
// [change.Kind.String].
func GroundWord(k change.Kind) string { return GroundWordIn(k, figures.Both) }

// GroundWordIn is [GroundWord] in a language.
func GroundWordIn(k change.Kind, u figures.Units) string {
	keys := map[change.Kind]vocabulary.Key{
		change.Never: vocabulary.GroundNever, change.New: vocabulary.GroundNew, change.Grown: vocabulary.GroundGrown,
		change.Held: vocabulary.GroundHeld, change.NotSeen: vocabulary.GroundNotSeen, change.Shrunk: vocabulary.GroundShrunk, change.Gone: vocabulary.GroundGone,
	}
	return wordIn(keys, k, u.Language())
}

// HotspotWord is what people read for what happened to a hotspot; files keep the event.
func HotspotWord(e change.Event) string {
	keys := map[change.Event]vocabulary.Key{
		change.Born: vocabulary.HotspotBorn, change.Grew: vocabulary.HotspotGrown, change.Stayed: vocabulary.HotspotHeld,
		change.Shrank: vocabulary.HotspotShrunk, change.Merged: vocabulary.HotspotMerged, change.Joined: vocabulary.HotspotJoined,
		change.Split: vocabulary.HotspotSplit, change.Broke: vocabulary.HotspotBroken, change.Ended: vocabulary.HotspotGone,
		change.Lost: vocabulary.HotspotNotSeen,
	}
	return word(keys, e)
}

// VerdictWord is what people read for a verdict; files keep [verdict.Kind.String].
func VerdictWord(k verdict.Kind) string { return VerdictWordIn(k, figures.Both) }

// VerdictWordIn is [VerdictWord] in a language.
func VerdictWordIn(k verdict.Kind, u figures.Units) string {
	keys := map[verdict.Kind]vocabulary.Key{
		verdict.None: vocabulary.VerdictNone, verdict.Undecided: vocabulary.VerdictUndecided, verdict.NoSpray: vocabulary.VerdictNoSpray,
		verdict.LookAgain: vocabulary.VerdictLookAgain, verdict.SpotSpray: vocabulary.VerdictSpotSpray, verdict.TreatWhole: vocabulary.VerdictTreatWhole,
	}
	return wordIn(keys, k, u.Language())
}

func word[T comparable](keys map[T]vocabulary.Key, of T) string { return wordIn(keys, of, said) }

// wordIn is "?" for a value that no table names.
func wordIn[T comparable](keys map[T]vocabulary.Key, of T, l vocabulary.Language) string {
	k, ok := keys[of]
	if !ok {
		return "?"
	}
	return l.Word(k)
}
