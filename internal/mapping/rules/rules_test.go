package rules_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/internal/mapping/rules"
)

func published(t testing.TB) *rules.Book {
	b, err := rules.Published()
	require.NoError(t, err)
	return b
}

// Levels as published; sources beside the rules in rules.toml.
func TestPublishedLevels(t *testing.T) {
	b := published(t)
	for _, c := range []struct {
		rule, stage string
		treat       float64
		tally       float64
		said        string
	}{
		{"sorghum-aphid-mean-40", "", 40, 0, "40 per leaf"},                                           // Gordy et al. 2019
		{"sorghum-aphid-mean-40", "dough", 40, 0, "40 per leaf"},                                      // Gordy et al. 2019
		{"sorghum-aphid-high-plains", "4", 20, 1, "20 % of plants with the pest"},                     // AgriLife 2016, 2018
		{"sorghum-aphid-high-plains", "boot", 20, 50, "20 % of plants with a leaf at or above 50"},    // the same
		{"sorghum-aphid-high-plains", "milk", 30, 50, "30 % of plants with a leaf at or above 50"},    // the same
		{"sorghum-aphid-high-plains", "7", 30, 0, "30 % of plants with honeydew and colonies"},        // the same
		{"sorghum-aphid-texas-mean", "flag leaf", 50, 0, "50–125 per leaf"},                           // AgriLife 2015–2020, Clemson 2016
		{"sorghum-aphid-texas-mean", "bloom", 50, 0, "50–100 per leaf"},                               // the same
		{"sorghum-aphid-kansas", "boot", 30, 101, "30 % of plants with a leaf at or above 101"},       // K-State 2018: colony > 100
		{"sorghum-aphid-kansas", "2", 20, 1, "20 % of plants with the pest"},                          // K-State 2018
		{"sorghum-aphid-north-carolina", "5", 20, 0, "20 % of plants with honeydew and colonies"},     // NC State 2016
		{"sorghum-aphid-north-carolina", "dough", 30, 0, "30 % of plants with honeydew and colonies"}, // NC State 2016
		{"soybean-aphid", "", 250, 0, "250 per plant"},                                                // Ragsdale et al. 2007
		{"cotton-aphid", "", 50, 0, "50 per leaf"},                                                    // extension, TX and CA
		{"yellow-sugarcane-aphid", "3", 20, 41, "20 % of plants with a leaf at or above 41"},          // extension
		{"bird-cherry-oat-aphid", "seedling", 20, 0, "20 per stem"},                                   // Agdex 606-1
		{"corn-leaf-aphid", "boot", 30, 0, "30 per stem"},                                             // Agdex 606-1
		{"english-grain-aphid", "seedling", 30, 0, "30 per stem"},                                     // Agdex 606-1
		{"english-grain-aphid", "Boot", 50, 0, "50 per stem"},                                         // Agdex 606-1
		{"cereal-leaf-beetle", "", 0.5, 0, "0.5–1 per stem"},                                          // Alberta
		{"grasshopper-field", "", 13, 0, "13 per square metre"},                                       // Alberta
		{"canola-flea-beetle", "", 11, 0, "11 % of leaf area eaten per plant"},                        // Lundin 2019
		{"canola-flea-beetle-nominal", "", 25, 0, "25 % of leaf area eaten per plant"},                // nominal, as cited by Lundin 2019
		{"canola-seedpod-weevil", "", 25, 0, "25–40 per 10 sweeps"},                                   // trade press
		{"flax-aphids", "full flower", 3, 0, "3 per stem"},                                            // Alberta
		{"flax-aphids", "Green boll", 8, 0, "8 per stem"},                                             // Alberta
		{"alfalfa-seed-pea-aphid", "", 150, 0, "150–200 per sweep"},                                   // Alberta
		{"alfalfa-seed-weevil", "", 20, 0, "20–25 per sweep"},                                         // Alberta
		{"bird-cherry-oat-aphid", "boot", 30, 0, "30 per stem"},                                       // Agdex 606-1
		{"corn-leaf-aphid", "seedling", 20, 0, "20 per stem"},                                         // Agdex 606-1
		{"sorghum-headworm", "", 0.2, 0, "0.2–0.5 per head"},                                          // Elliott et al. 2014
	} {
		t.Run(c.rule+" "+c.stage, func(t *testing.T) {
			r, err := b.Named(c.rule)
			require.NoError(t, err)
			l, err := r.At(c.stage)
			require.NoError(t, err)
			assert.Equal(t, c.treat, l.Treat)
			assert.Equal(t, c.tally, l.Band.Tally)
			assert.Equal(t, c.said, r.StatedAs(l.Band))
			assert.Contains(t, l.Source(), r.Source)
			assert.Contains(t, l.Source(), c.said)
			if l.Band.To > 0 {
				assert.Contains(t, l.Source(), "the lower end taken")
			}
		})
	}
	soybean, err := b.Named("Soybean-Aphid")
	require.NoError(t, err)
	assert.Equal(t, 80.0, soybean.InfestedShare) // Ragsdale et al. 2007
}

func TestStagesThatGiveNoNumber(t *testing.T) {
	b := published(t)
	for _, c := range []struct{ rule, stage, want string }{
		{"sorghum-aphid-mean-40", "black layer", "says nothing at stage"},
		{"sorghum-aphid-mean-40", "9", "its stages are pre-boot, boot, bloom to milk, dough"},
		{"sorghum-aphid-high-plains", "", "give --stage, one of pre-boot, boot, bloom to milk, dough, black layer"},
		{"sorghum-aphid-high-plains", "9", "only to protect the harvest"},
		{"sorghum-aphid-north-carolina", "black layer", "colonies in the head"},
		{"sorghum-midge", "", "geocoris rules compute midge"},
		{"sorghum-aphid-kansas", "tassel", `says nothing at stage "tassel"`},
	} {
		r, err := b.Named(c.rule)
		require.NoError(t, err)
		_, err = r.At(c.stage)
		assert.ErrorContains(t, err, c.want, "%s %s", c.rule, c.stage)
	}
	r, err := b.Named("sorghum-midge")
	require.NoError(t, err)
	_, err = r.At("6")
	var none *rules.NoNumber
	assert.True(t, errors.As(err, &none))
}

// Stages 0 to 9: Vanderlip & Reeves 1972, Agron. J. 64:13–16.
func TestStageBands(t *testing.T) {
	for stage, want := range map[string]string{
		"0": rules.PreBoot, "4": rules.PreBoot, "4.5": rules.PreBoot, "5": rules.Boot, "6": rules.BloomToMilk,
		"7": rules.Dough, "8": rules.Dough, "9": rules.BlackLayer, "10": "10", "-1": "-1",
		" Flag  Leaf ": rules.PreBoot, "HALF BLOOM": rules.BloomToMilk, "hard dough": rules.Dough,
		"Tillering": "tillering", "NaN": "nan",
	} {
		assert.Equal(t, want, rules.StageBand(stage), stage)
	}
}

func TestEveryPublishedRuleTellsItsSource(t *testing.T) {
	b := published(t)
	require.NotEmpty(t, b.Rules)
	for _, r := range b.Rules {
		assert.NotEmpty(t, r.Crop, r.Name)
		assert.NotEmpty(t, r.Region, r.Name)
		assert.NotEmpty(t, r.About, r.Name)
		assert.Contains(t, []string{"read", "not checked"}, r.Basis, r.Name)
	}
}

func TestRulesOfAPest(t *testing.T) {
	b := published(t)
	names := func(pest string) (out []string) {
		for _, r := range b.OfPest(pest) {
			out = append(out, r.Name)
		}
		return out
	}
	assert.Len(t, names("Sugarcane_Aphids"), 5)
	assert.Equal(t, names("sorghum aphid"), names("M. sacchari"))
	assert.Equal(t, []string{"sorghum-midge"}, names("sorghum midge"))
	assert.Empty(t, names("greenbug"))
	d, ok := b.Default("sorghum aphid")
	assert.True(t, ok)
	assert.Equal(t, "sorghum-aphid-mean-40", d.Name)
	_, ok = b.Default("soybean aphid")
	assert.False(t, ok)
	_, err := b.Named("mean-40")
	assert.ErrorContains(t, err, `no rule is called "mean-40"; there are sorghum-aphid-mean-40, `)
}

const own = "[[rule]]\nname = \"mine\"\npest = \"thrips\"\nsource = \"our field days\"\nstatistic = \"mean\"\nunit = \"leaf\"\nbands = [{ value = 9 }]\n"

func TestOwnRulesComeFirstAndReplace(t *testing.T) {
	text := own + "[[rule]]\nname = \"soybean-aphid\"\npest = \"soybean aphid\"\nsource = \"here\"\nstatistic = \"share\"\nunit = \"plant\"\nbands = [{ value = 90, tally = 1 }]\n"
	b, err := rules.With("own.toml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, "mine", b.Rules[0].Name)
	assert.Len(t, b.Rules, len(published(t).Rules)+1)
	r, err := b.Named("soybean-aphid")
	require.NoError(t, err)
	assert.Equal(t, "here", r.Source)
	_, err = rules.With("own.toml", bytes.Repeat([]byte("# a long line\n"), 1<<17))
	assert.EqualError(t, err, "own.toml: more than 1024 KiB: is this a file of rules?")
}

func TestDecodeRefuses(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"a decimal comma":      {own + "infested_share = 12,5\n", "own.toml:8:20: infested_share: write 12.5, with a point"},
		"a text for a number":  {own + "infested_share = \"a few\"\n", "infested_share: want a number"},
		"an unknown key":       {own + "valu = 3\n", `own.toml:8:1: no key of a rule is called "valu"`},
		"an unknown band key":  {"[[rule]]\nname = \"a\"\nbands = [{ valeu = 9 }]\n", `own.toml:3:12: no key of a rule is called "valeu"`},
		"a broken line":        {"[[rule]]\nname = \n", "own.toml:2:"},
		"a word for a number":  {"[[rule]]\nyear = \"old\"\n", "own.toml:2:"},
		"nothing":              {"", "holds no rule"},
		"two of one name":      {own + own, `two rules are called "mine"`},
		"no source":            {"[[rule]]\nname = \"a\"\npest = \"b\"\nunit = \"leaf\"\nstatistic = \"mean\"\nbands = [{value = 1}]\n", `rule "a" has no source`},
		"no such statistic":    {rule("statistic = \"median\"\nbands = [{value = 1}]"), `statistic "median": want mean or share`},
		"no bands":             {rule("statistic = \"mean\""), "has no bands"},
		"an empty band":        {rule("statistic = \"mean\"\nbands = [{stages = [\"boot\"]}]"), "band 1: has neither a value nor advice"},
		"a share of no tally":  {rule("statistic = \"share\"\nbands = [{value = 20}]"), "a share needs a tally or a sign"},
		"a share of both":      {rule("statistic = \"share\"\nbands = [{value = 20, tally = 5, sign = \"honeydew\"}]"), "one of them only"},
		"a share above all":    {rule("statistic = \"share\"\nbands = [{value = 120, tally = 5}]"), "a share of 120 %"},
		"a mean with a tally":  {rule("statistic = \"mean\"\nbands = [{value = 20, tally = 5}]"), "for shares only"},
		"a range upside down":  {rule("statistic = \"mean\"\nbands = [{value = 20, to = 5}]"), "a range from 20 to 5"},
		"not a number":         {rule("statistic = \"mean\"\nbands = [{value = nan}]"), "finite"},
		"without end":          {rule("statistic = \"mean\"\nbands = [{value = inf}]"), "finite"},
		"below nothing":        {rule("statistic = \"mean\"\nbands = [{value = -4}]"), "finite and not negative"},
		"a stage twice":        {rule("statistic = \"mean\"\nbands = [{stages = [\"5\"], value = 2}, {stages = [\"Boot\"], value = 3}]"), `stage "Boot" is in two bands`},
		"every stage and more": {rule("statistic = \"mean\"\nbands = [{value = 2}, {stages = [\"boot\"], value = 3}]"), "names no stages, but is not the only one"},
		"growth out of air":    {rule("statistic = \"mean\"\ndoubling_days = 3\nbands = [{value = 2}]"), "without doubling_source"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := rules.Decode("own.toml", []byte(c.text))
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func rule(rest string) string {
	return "[[rule]]\nname = \"a\"\npest = \"b\"\nsource = \"c\"\nunit = \"leaf\"\n" + rest + "\n"
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(own))
	f.Add([]byte("[[rule]]\nbands = [{}]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := rules.Decode("own.toml", text)
		if err != nil {
			return
		}
		for _, r := range b.Rules {
			require.NoError(t, r.Validate())
			for _, stage := range []string{"", "boot", "9"} {
				if l, err := r.At(stage); err == nil {
					require.Positive(t, l.Treat)
				}
			}
		}
	})
}

// What was not looked up in a source is said in words that a grower knows.
func TestWhatWasNotCheckedIsSaid(t *testing.T) {
	b := published(t)
	unchecked := 0
	for _, r := range b.Rules {
		assert.NotContains(t, r.Region+r.Note+r.Cited(), "memory", r.Name)
		assert.Equal(t, r.Unchecked, strings.HasSuffix(r.Cited(), " (region not checked there)"), r.Name)
		if r.Unchecked {
			unchecked++
		}
	}
	assert.Equal(t, 6, unchecked)
}
