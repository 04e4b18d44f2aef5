//go:build long

package published

import "testing"

func TestAllPublishedAnswersLong(t *testing.T) { passAll(t, Checks()) }
