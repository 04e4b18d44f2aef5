//go:build long

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// A log of the template's yoke, with readings that a loose winding would give, through the command line: its JSON keys.
func TestWindLog(t *testing.T) {
	dir := t.TempDir()
	file, log := filepath.Join(dir, "pair.toml"), filepath.Join(dir, "log.csv")
	for name, text := range map[string]string{
		file: template(t, "wound-pair"),
		log:  "layer,B_mT,outer_mm\n0,512\n1,561.2,61.9\n2,604,65.5\n3,637.8,69.3\n4,667,73.0\n5,692.1,76.8\n",
	} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs bytes.Buffer
	if c := run([]string{"wind", file, "--log", log, "--json"}, nil, &out, &errs); c != solved || errs.Len() > 0 {
		t.Fatalf("exit status %d, %s", c, errs.String())
	}
	var sheet struct {
		Turns   int `json:"turns"`
		Outlook struct {
			Points []struct{} `json:"points"`
		} `json:"outlook"`
		Log struct {
			Packing float64 `json:"packing"`
			GoOn    *bool   `json:"go_on"`
			Advice  string  `json:"advice"`
			Ahead   []struct {
				Turns int `json:"running_turns"`
			} `json:"ahead"`
		} `json:"log"`
	}
	if err := json.Unmarshal(out.Bytes(), &sheet); err != nil {
		t.Fatal(err)
	}
	// The caliper's 76.8 mm over five layers: 180 turns of 2.0755 mm² in 9.4 mm by 60 mm are packed 0.662.
	if p := sheet.Log.Packing; sheet.Turns != 250 || len(sheet.Outlook.Points) < 8 || p < 0.64 || p > 0.68 || sheet.Log.GoOn == nil || sheet.Log.Advice == "" ||
		len(sheet.Log.Ahead) != 2 || sheet.Log.Ahead[1].Turns != 250 {
		t.Errorf("%+v", sheet)
	}
}
