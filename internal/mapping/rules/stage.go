package rules

import (
	"strconv"
	"strings"
)

// The bands of grain sorghum's growth stages in which thresholds are published.
const (
	PreBoot     = "pre-boot"
	Boot        = "boot"
	BloomToMilk = "bloom to milk"
	Dough       = "dough"
	BlackLayer  = "black layer"
)

// sorghumStages are growth stages 0 to 9 of sorghum with the band each is in
// (Vanderlip & Reeves 1972, Agron. J. 64:13–16: emergence, three-leaf, five-leaf,
// growing-point differentiation, flag leaf visible, boot, half bloom, soft dough,
// hard dough, black layer; pre-boot is 0 to 4). Milk lies between 6 and 7.
var sorghumStages = [...]string{PreBoot, PreBoot, PreBoot, PreBoot, PreBoot, Boot, BloomToMilk, Dough, Dough, BlackLayer}

// stageWords are other words for the bands.
var stageWords = map[string]string{
	"preboot": PreBoot, "vegetative": PreBoot, "emergence": PreBoot, "three-leaf": PreBoot, "five-leaf": PreBoot,
	"growing-point differentiation": PreBoot, "growing point differentiation": PreBoot,
	"flag leaf": PreBoot, "flag leaf visible": PreBoot,
	"bloom": BloomToMilk, "half bloom": BloomToMilk, "flowering": BloomToMilk, "milk": BloomToMilk,
	"bloom-milk": BloomToMilk, "bloom–milk": BloomToMilk,
	"soft dough": Dough, "hard dough": Dough,
	"maturity": BlackLayer, "physiological maturity": BlackLayer,
}

// StageBand is the band that a growth stage is in: a number 0 to 9 of sorghum, a
// stage's name or a band's. A word that is not known is taken for a band of its
// own, folded to lower case; rules for other crops name theirs so.
func StageBand(stage string) string {
	s := strings.ToLower(strings.Join(strings.Fields(stage), " "))
	if v, err := strconv.ParseFloat(s, 64); err == nil && v >= 0 && v < float64(len(sorghumStages)) {
		return sorghumStages[int(v)]
	}
	if band, known := stageWords[s]; known {
		return band
	}
	return s
}
