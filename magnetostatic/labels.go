package magnetostatic

import "slices"

// labels holds a list of numbers for each node. Few of the lists differ, so each is kept once.
type labels struct {
	of    []int32 // number of each node's list
	lists *labelLists
}

// labelLists are the lists that there are, the first one empty.
type labelLists struct {
	all  [][]int32
	with map[[2]int32]int32 // list that one is with a number more
}

func newLabels(nodes int) labels {
	return labels{make([]int32, nodes), &labelLists{[][]int32{nil}, map[[2]int32]int32{}}}
}

// at is the list of a node, not to be changed.
func (l labels) at(node int) []int32 { return l.lists.all[l.of[node]] }

// has tells whether a number is in a node's list.
func (l labels) has(node int, x int32) bool { return slices.Contains(l.at(node), x) }

// add puts a number into a node's list unless it is there.
func (l labels) add(node int, x int32) { l.of[node] = l.lists.more(l.of[node], x) }

func (l *labelLists) more(list, x int32) int32 {
	if slices.Contains(l.all[list], x) {
		return list
	}
	key := [2]int32{list, x}
	id, ok := l.with[key]
	if !ok {
		id = int32(len(l.all))
		l.all = append(l.all, append(slices.Clip(l.all[list]), x))
		l.with[key] = id
	}
	return id
}

// keep leaves only some of a node's numbers.
func (l labels) keep(node int, keep func(x int32) bool) {
	var list int32
	for _, x := range l.at(node) {
		if keep(x) {
			list = l.lists.more(list, x)
		}
	}
	l.of[node] = list
}

// clone is a copy that changes of the other do not reach.
func (l labels) clone() labels { return labels{slices.Clone(l.of), l.lists} }
