package solve

// table is what is known of states. Each is a slot, found by an index of open
// places: the one map of the search, as it is asked for every state that any
// action may lead to.
type table struct {
	chunks [][]slot // of aChunk each, so that none moves
	count  int      // of slots
	index  []int32  // past + 1 + the slot; up to past it is free
	past   int32    // what tables before this one wrote into the index
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
	past := t.past + int32(t.count)
	if past > 1<<30 {
		clear(t.index)
		past = 0
	}
	return table{t.chunks, 0, t.index, past, words}
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

// look is the place of a state among the slots, -1 for none, and its place in the
// index, or the one that is free for it.
func (t *table) look(st *state) (i int, where uint64) {
	last := uint64(len(t.index) - 1)
	for where = t.hash(st) & last; ; where = (where + 1) & last {
		i = int(t.index[where] - t.past - 1)
		if i < 0 {
			return -1, where
		}
		if t.at(i).st == *st {
			return i, where
		}
	}
}

// find is the slot of a state, nil where there is none.
func (t *table) find(st *state) *slot {
	if len(t.index) == 0 {
		return nil
	}
	if i, _ := t.look(st); i >= 0 {
		return t.at(i)
	}
	return nil
}

// slot is the slot of a state, made where there is none.
func (t *table) slot(st *state) *slot {
	i, _ := t.number(st)
	return t.at(i)
}

// number is the place of a state among the slots, made where there is none.
func (t *table) number(st *state) (i int, made bool) {
	if len(t.index) == 0 {
		t.index = make([]int32, 64)
	}
	i, where := t.look(st)
	if i >= 0 {
		return i, false
	}
	if 2*(t.count+1) > len(t.index) {
		t.index, t.past = make([]int32, 4*len(t.index)), 0
		for i := range t.count {
			_, where := t.look(&t.at(i).st)
			t.index[where] = int32(i + 1)
		}
		_, where = t.look(st)
	}
	if t.count == aChunk*len(t.chunks) {
		t.chunks = append(t.chunks, make([]slot, aChunk))
	}
	i = t.count
	*t.at(i) = slot{st: *st}
	t.count++
	t.index[where] = t.past + int32(t.count)
	return i, true
}

// proof is what is proved of a state.
func (s *solver) proof(st *state) (e entry, known bool) {
	if x := s.states.find(st); x != nil && x.proved {
		return x.entry, true
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
	if x := s.states.find(st); x != nil && x.rolled {
		return x.choice, true
	}
	return choice{}, false
}

func (s *solver) settle(st *state, c choice) choice {
	at := s.states.slot(st)
	at.choice, at.rolled = c, true
	return c
}
