//go:build study

package polewright

func init() { everyDesign = true }
