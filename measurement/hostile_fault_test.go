package measurement

import (
	"io"
	"strings"
	"testing"
)

// endless gives a line again and again, n bytes in all.
type endless struct {
	line  string
	at, n int
}

func (e *endless) Read(p []byte) (int, error) {
	if e.at >= e.n {
		return 0, io.EOF
	}
	for i := range p {
		p[i] = e.line[e.at%len(e.line)]
		e.at++
	}
	return len(p), nil
}

// A log without an end is refused when it has more than a log has, with the line at which it does.
func TestEndlessLogs(t *testing.T) {
	for _, c := range []struct{ name, head, line, want string }{
		{"notes", "", "# more\n", "log.csv:20001: there are more than 20000 notes"},
		{"readings", "x_mm,Bz_mT\n", "1,700\n", "log.csv:20002: there are more than 20000 readings"},
		{"a line", "x_mm,Bz_mT\n", "1111", "log.csv:2: the line is longer than 4096 bytes"},
		{"zeros", "", "\x00", "log.csv:1: "},
	} {
		source := &endless{line: c.line, n: 64 << 20}
		_, err := ReadLog(io.MultiReader(strings.NewReader(c.head), source), "log.csv")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %.300v, want %q", c.name, err, c.want)
		}
		if source.at > 4<<20 {
			t.Errorf("%s: read on for %d bytes", c.name, source.at)
		}
	}
}
