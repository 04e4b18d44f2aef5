package report

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// textWidth is the width of a text answer in columns.
const textWidth = 100

// tableRows is how many rows a table of parts shows; the JSON has them all.
const tableRows = 40

// table is a text table. A column whose heading begins with ">" is set to the right.
type table struct {
	head []string
	rows [][]string
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// write sets the table, indented by two columns. Its last column wraps within the width when it is set to the left.
func (t *table) write(b *strings.Builder) {
	width := make([]int, len(t.head))
	right := make([]bool, len(t.head))
	head := make([]string, len(t.head))
	for i, h := range t.head {
		head[i], right[i] = strings.CutPrefix(h, ">")
		width[i] = utf8.RuneCountInString(head[i])
	}
	for _, r := range t.rows {
		for i, c := range r {
			width[i] = max(width[i], utf8.RuneCountInString(c))
		}
	}
	last := len(head) - 1
	indent := 2
	for _, w := range width[:last] {
		indent += w + 2
	}
	for _, r := range append([][]string{head}, t.rows...) {
		line := "  "
		for i, c := range r {
			space := strings.Repeat(" ", width[i]-utf8.RuneCountInString(c))
			switch {
			case right[i]:
				line += space + c
			case i == last && indent < textWidth-20:
				line += strings.Join(wrap(c, textWidth-indent), "\n"+strings.Repeat(" ", indent))
			default:
				line += c + space
			}
			if i < last {
				line += "  "
			}
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// finish writes a table that shows only the first of so many rows if there are too many.
func (t *table) finish(b *strings.Builder, all int) {
	t.write(b)
	if rest := all - len(t.rows); rest > 0 {
		fmt.Fprintf(b, "  and %s more, which --json lists\n", counted(rest))
	}
}

// wrap breaks a text at spaces into lines of at most so many columns; a longer word stays whole.
func wrap(s string, width int) []string {
	lines := broken(strings.Fields(s), func(line string) bool { return utf8.RuneCountInString(line) <= width })
	if len(lines) == 0 {
		return []string{""}
	}
	return lines
}

// broken puts words into lines that fit, or hold one word.
func broken(words []string, fits func(line string) bool) (lines []string) {
	for i, word := range words {
		if i > 0 {
			if longer := lines[len(lines)-1] + " " + word; fits(longer) {
				lines[len(lines)-1] = longer
				continue
			}
		}
		lines = append(lines, word)
	}
	return lines
}

// bullets writes texts as wrapped items.
func bullets(b *strings.Builder, texts []string) {
	for _, t := range texts {
		b.WriteString("  - " + strings.Join(wrap(t, textWidth-4), "\n    ") + "\n")
	}
}

// shortName fits a name to the room of a table.
func shortName(s string) string { return shortened(strings.Join(strings.Fields(s), " "), 24) }

func shortened(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// printable replaces what a terminal could take for a command; lines stay.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) || r == '\n' {
			return r
		}
		return ' '
	}, s)
}
