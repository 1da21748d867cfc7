package solve

// table is what is known of states. Each is a slot, found by an index of open
// places: the one map of the search, as it is asked for every state that any
// action may lead to.
type table struct {
	chunks [][]slot // of aChunk each, so that none moves
	count  int      // of slots
	index  []int32  // 1 + the slot; 0 is free
	words  int      // of a set that are in use
}

const aChunk = 128

func (t *table) at(i int) *slot { return &t.chunks[i/aChunk][i%aChunk] }

// slot is a state with what the search, the simple policy and the rolled-out one
// know of it.
type slot struct {
	st     state
	entry          // where proved
	rough  float64 // value of the simple policy, where roughly
	choice         // of the rolled-out policy, where rolled

	proved, roughly, rolled bool
}

// emptied is an empty table in the room of this one.
func (t *table) emptied(words int) table {
	clear(t.index)
	return table{t.chunks, 0, t.index, words}
}

func (t *table) hash(st *state) uint64 {
	h := st.g ^ st.d<<32 ^ st.d>>32
	h = h*0x9e3779b97f4a7c15 ^ st.x
	for k := range t.words {
		h = (h ^ h>>29 ^ st.s[k]) * 0xbf58476d1ce4e5b9
	}
	h = (h ^ h>>32) * 0x94d049bb133111eb
	return h ^ h>>29
}

// find is the place of a state among the slots, -1 for none.
func (t *table) find(st *state) int {
	if len(t.index) == 0 {
		return -1
	}
	last := uint64(len(t.index) - 1)
	for h := t.hash(st); ; h++ {
		i := int(t.index[h&last]) - 1
		if i < 0 || t.at(i).st == *st {
			return i
		}
	}
}

// slot is the slot of a state, made where there is none.
func (t *table) slot(st *state) *slot {
	if i := t.find(st); i >= 0 {
		return t.at(i)
	}
	if t.count == aChunk*len(t.chunks) {
		t.chunks = append(t.chunks, make([]slot, aChunk))
	}
	x := t.at(t.count)
	*x = slot{st: *st}
	t.count++
	if 2*t.count > len(t.index) {
		t.index = make([]int32, max(64, 4*len(t.index)))
		for i := range t.count {
			t.settle(i)
		}
	} else {
		t.settle(t.count - 1)
	}
	return x
}

// settle gives a slot its place in the index.
func (t *table) settle(i int) {
	last := uint64(len(t.index) - 1)
	h := t.hash(&t.at(i).st)
	for t.index[h&last] != 0 {
		h++
	}
	t.index[h&last] = int32(i + 1)
}

// proof is what is proved of a state.
func (s *solver) proof(st *state) (e entry, known bool) {
	if i := s.states.find(st); i >= 0 && s.states.at(i).proved {
		return s.states.at(i).entry, true
	}
	return entry{}, false
}

func (s *solver) prove(st *state, e entry) {
	at := s.states.slot(st)
	if !at.proved {
		s.proved++
	}
	at.entry, at.proved = e, true
}

// rolled is what the rolled-out policy does in a state, where that is settled.
func (s *solver) rolled(st *state) (c choice, known bool) {
	if i := s.states.find(st); i >= 0 && s.states.at(i).rolled {
		return s.states.at(i).choice, true
	}
	return choice{}, false
}

func (s *solver) settle(st *state, c choice) choice {
	at := s.states.slot(st)
	at.choice, at.rolled = c, true
	return c
}
