package serve

import "testing"

func TestParts(t *testing.T) {
	for _, c := range []struct {
		written string
		want    []string
	}{
		{"", nil},
		{"\x04\x00\x00\x00open\x00\x00\x00\x00\x02\x00\x00\x00\x1f\x8b", []string{"open", "", "\x1f\x8b"}},
		{"\x04\x00\x00\x00ope", nil},
		{"\xff\xff\xff\xffopen", nil},
		{"\x04\x00", nil},
	} {
		got := parts([]byte(c.written))
		if len(got) != len(c.want) {
			t.Errorf("%q: %q, wanted %q", c.written, got, c.want)
			continue
		}
		for i, w := range c.want {
			if string(got[i]) != w {
				t.Errorf("%q: part %d is %q, wanted %q", c.written, i, got[i], w)
			}
		}
	}
}
