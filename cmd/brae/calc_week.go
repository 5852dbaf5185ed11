package main

import (
	"brae/domain/intensity"
	"brae/domain/volume"
)

func init() {
	calculations["week"] = calculation{
		example: `{"parts":[{"minutes":50,"class":"moderate"},{"minutes":25,"class":"vigorous"}]}`,
		answer:  answering(calcWeek),
	}
}

type weekIn struct {
	Parts []struct {
		Minutes int             `json:"minutes"`
		Class   intensity.Class `json:"class"`
	} `json:"parts"`
	Target *int `json:"target,omitempty"`
}

type weekOut struct {
	Light              int         `json:"light"`
	Moderate           int         `json:"moderate"`
	Vigorous           int         `json:"vigorous"`
	ModerateEquivalent int         `json:"moderate_equivalent"`
	ShortBy            int         `json:"short_by"`
	Band               volume.Band `json:"band"`
	Rule               string      `json:"rule"`
	Sources            []string    `json:"sources"`
}

func calcWeek(in weekIn) (weekOut, error) {
	policy := volume.PolicyFrom(nil)
	target := volume.DefaultTarget(policy).Minutes
	if in.Target != nil {
		target = *in.Target
	}
	parts := make([]volume.Part, len(in.Parts))
	for i, p := range in.Parts {
		parts[i] = volume.Part{Minutes: p.Minutes, Class: p.Class}
	}
	if _, err := volume.CheckWeek(parts, target, policy); err != nil {
		return weekOut{}, err
	}
	t := volume.Sum(parts)
	return weekOut{
		Light: t.Light, Moderate: t.Moderate, Vigorous: t.Vigorous, ModerateEquivalent: t.ModerateEquivalent,
		ShortBy: volume.ShortBy(target, t.ModerateEquivalent), Band: volume.BandOf(t.ModerateEquivalent),
		Rule: "volume.bands", Sources: keysOf(citesOf(volume.Rules, "volume.bands", "volume.equivalent", "volume.target")...),
	}, nil
}
