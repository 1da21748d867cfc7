package note

// index finds notes by name. It is made once a set is read; a set without one
// is looked through.
type index struct {
	notes   map[string]*Document // by file
	devices map[string]*Device
	faults  map[string]*Fault
	of      map[string][]*Fault // by device
	jobs    map[string][]*Job   // by device
	votes   map[string]Votes
}

// Index makes the set's finding by name, and its votes, quick. Whoever changes a
// list of the set afterwards calls it again.
func (s *Set) Index() {
	docs, devices := s.Documents(), len(s.Devices)
	x := &index{notes: make(map[string]*Document, len(docs)), devices: make(map[string]*Device, devices), faults: make(map[string]*Fault, len(s.Faults)),
		of: make(map[string][]*Fault, devices), jobs: make(map[string][]*Job, devices)}
	for _, d := range docs {
		x.notes[d.File] = d
	}
	for _, d := range s.Devices {
		x.devices[d.Name] = d
	}
	for _, f := range s.Faults {
		x.faults[f.Name] = f
		x.of[f.Device] = append(x.of[f.Device], f)
	}
	for _, j := range s.Jobs {
		x.jobs[j.Sheet.Device] = append(x.jobs[j.Sheet.Device], j)
	}
	x.votes = s.count()
	s.index = x
}

// Device finds a device by name.
func (s *Set) Device(name string) (*Device, bool) {
	if s.index != nil {
		d, ok := s.index.devices[name]
		return d, ok
	}
	for _, d := range s.Devices {
		if d.Name == name {
			return d, true
		}
	}
	return nil, false
}

// Fault finds a fault note by name; nil if there is none.
func (s *Set) Fault(name string) *Fault {
	if s.index != nil {
		return s.index.faults[name]
	}
	for _, f := range s.Faults {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// FaultsOf lists the faults of a device.
func (s *Set) FaultsOf(device string) []*Fault {
	if s.index != nil {
		return s.index.of[device]
	}
	var of []*Fault
	for _, f := range s.Faults {
		if f.Device == device {
			of = append(of, f)
		}
	}
	return of
}

// JobsOf lists the job sheets of a device, oldest first.
func (s *Set) JobsOf(device string) []*Job {
	if s.index != nil {
		return s.index.jobs[device]
	}
	var of []*Job
	for _, j := range s.Jobs {
		if j.Sheet.Device == device {
			of = append(of, j)
		}
	}
	return of
}

// Count takes the votes of a whole shop for those of a set that is a part of it.
func (s *Set) Count(votes map[string]Votes) { s.index.votes = votes }

// Votes counts the job sheets for every fault by name.
func (s *Set) Votes() map[string]Votes {
	if s.index != nil {
		return s.index.votes
	}
	return s.count()
}
