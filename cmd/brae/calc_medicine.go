package main

import "brae/domain/medicine"

func init() {
	calculations["medicine"] = calculation{
		example: `{"text":"metoprolol succinate 50 mg, timolol eye drops"}`,
		codes:   medicineCodes,
		answer:  answering(calcMedicine),
	}
}

func medicineCodes() []code {
	var codes []code
	for _, c := range medicine.Classes() {
		if e, ok := c.Effect(); ok {
			codes = append(codes, code{Key: "class", Code: string(c), Row: e.Zones.String(), Says: e.Label})
		}
	}
	return codes
}

type medicineIn struct {
	Text string `json:"text"`
}

type medicineOut struct {
	Matches  []medicineMatch `json:"matches"`
	Unknown  []string        `json:"unknown"`
	ZoneCode string          `json:"zone_code"` // of all together, suggestions included
	Asks     []string        `json:"asks"`
	Clashes  []string        `json:"clashes"`
	Rule     string          `json:"rule"`
	Sources  []string        `json:"sources"`
}

type medicineMatch struct {
	Name      string             `json:"name"`
	Class     medicine.Class     `json:"class"`
	ZoneCode  string             `json:"zone_code"`
	Typed     string             `json:"typed"`
	Certainty medicine.Certainty `json:"certainty"`
	AskRoute  bool               `json:"ask_route"` // eye drops or tablets?
}

func calcMedicine(in medicineIn) (medicineOut, error) {
	found := medicine.Match(in.Text)
	out := medicineOut{
		Matches: []medicineMatch{}, Unknown: append([]string{}, found.Unknown...), ZoneCode: found.ZonesUntilConfirmed().String(),
		Asks: []string{}, Clashes: []string{}, Rule: "medicine.zones",
	}
	for _, m := range found.Matches {
		out.Matches = append(out.Matches, medicineMatch{m.Name, m.Class, m.Zones.String(), m.Typed, m.Certainty, m.AskRoute})
	}
	for _, h := range medicine.Hints(found.Matches) {
		out.Asks = append(out.Asks, h.Asks)
	}
	for _, c := range medicine.Clashes(found.Matches) {
		out.Clashes = append(out.Clashes, c.Says)
	}
	out.Sources = keysOf(citesOf(medicine.Rules, "medicine.names", "medicine.classes", "medicine.zones", "medicine.matching")...)
	return out, nil
}
