// Package report turns the program's answers into text for a terminal, and draws pictures: maps of the flux density and line charts, light or dark,
// as PNG or SVG.
//
// It knows nothing of grids or files: callers hand in numbers and closed polygons. Text is set in the Liberation Sans that comes with
// gonum.org/v1/plot; in SVG it is drawn as outlines, with the words in the picture's description, so that a
// picture looks the same wherever it is opened.
package report
