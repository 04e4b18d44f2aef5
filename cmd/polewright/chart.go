package main

import (
	"io"
	"path/filepath"
	"strings"

	"polewright/report"
)

// studyChartMM is the width of a chart.
const studyChartMM = 160

type chartWriter func(report.Lines, io.Writer) error

// chartFile finds how a chart is written by the extension of its file.
func chartFile(path string) (chartWriter, error) {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".png":
		return func(g report.Lines, w io.Writer) error { return g.PNG(w, studyChartMM) }, nil
	case ".svg":
		return func(g report.Lines, w io.Writer) error { return g.SVG(w, studyChartMM) }, nil
	}
	return nil, cannotWrite("a picture", path, "a chart is .png or .svg")
}
