// Package qr makes QR codes of addresses: bytes, at correction level L or M, by ISO/IEC
// 18004. It is small, because a page's binary carries it, and is held against a library
// in its test.
package qr

import "errors"

// Level is how much of a code may be soiled before it reads no more.
type Level int

const (
	L Level = iota // about 7 %
	M              // about 15 %
)

// Code is a square of modules, Size of them on a side.
type Code struct {
	Size  int
	black []bool
	fixed []bool // modules that are no data
}

// Black tells whether a module is black; outside the square none is.
func (c *Code) Black(x, y int) bool {
	return x >= 0 && y >= 0 && x < c.Size && y < c.Size && c.black[y*c.Size+x]
}

// check is the number of check bytes of each block, blocks the number of blocks, by
// version (ISO/IEC 18004, table 9).
var check = [2][41]uint8{
	{0, 7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30},
	{0, 10, 16, 26, 18, 24, 16, 18, 22, 22, 26, 30, 22, 22, 24, 24, 28, 28, 26, 26, 26, 26, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28},
}

var blocks = [2][41]uint8{
	{0, 1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25},
	{0, 1, 1, 1, 2, 2, 4, 4, 4, 5, 5, 5, 8, 9, 9, 10, 10, 11, 13, 14, 16, 17, 17, 18, 20, 21, 23, 25, 26, 28, 29, 31, 33, 35, 37, 38, 40, 43, 45, 47, 49},
}

// Encode makes the smallest code that holds a text.
func Encode(text string, level Level) (*Code, error) {
	for version := 1; version <= 40; version++ {
		c := blank(version)
		free := 0
		for _, f := range c.fixed {
			if !f {
				free++
			}
		}
		data := free/8 - int(check[level][version])*int(blocks[level][version])
		length := 8 // bits of the length
		if version > 9 {
			length = 16
		}
		if 4+length+8*len(text) > 8*data {
			continue
		}
		c.lay(spread(packed(text, length, data), free/8, int(check[level][version]), int(blocks[level][version])))
		c.format(level)
		return c, nil
	}
	return nil, errors.New("this is too long for a printed code")
}

// packed is the text as data: that these are bytes, how many, they, and filling.
func packed(text string, length, size int) []byte {
	var out []byte
	held, bits := 0, 0
	put := func(v, n int) {
		for held, bits = held<<n|v, bits+n; bits >= 8; bits -= 8 {
			out = append(out, byte(held>>(bits-8)))
		}
		held &= 1<<bits - 1
	}
	put(4, 4)
	put(len(text), length)
	for i := range len(text) {
		put(int(text[i]), 8)
	}
	put(0, min(4, 8*(size-len(out))-bits))
	if bits > 0 {
		put(0, 8-bits)
	}
	for fill := byte(0xec); len(out) < size; fill ^= 0xec ^ 0x11 {
		out = append(out, fill)
	}
	return out
}

// spread parts the data into blocks, adds each one's check bytes, and takes from all blocks
// in turn. The first blocks may be one byte shorter.
func spread(data []byte, total, check, blocks int) []byte {
	short := total/blocks - check
	long := total % blocks // blocks with one byte more, the last ones
	var parts, checks [][]byte
	by := generator(check)
	for i := range blocks {
		n := short
		if i >= blocks-long {
			n++
		}
		parts, checks = append(parts, data[:n]), append(checks, remainder(data[:n], by))
		data = data[n:]
	}
	var out []byte
	for i := range short + 1 {
		for _, p := range parts {
			if i < len(p) {
				out = append(out, p[i])
			}
		}
	}
	for i := range check {
		for _, c := range checks {
			out = append(out, c[i])
		}
	}
	return out
}

// times multiplies in the field of 256 elements of x^8 + x^4 + x^3 + x^2 + 1.
func times(a, b byte) byte {
	p := 0
	for i := 7; i >= 0; i-- {
		p = p<<1 ^ p>>7*0x11d
		p ^= int(b>>i&1) * int(a)
	}
	return byte(p)
}

// generator is the product of (x - 2^i) for i below n, without its first coefficient.
func generator(n int) []byte {
	g := make([]byte, n)
	g[n-1] = 1
	root := byte(1)
	for range n {
		for i := range g {
			g[i] = times(g[i], root)
			if i+1 < n {
				g[i] ^= g[i+1]
			}
		}
		root = times(root, 2)
	}
	return g
}

func remainder(data, by []byte) []byte {
	r := make([]byte, len(by))
	for _, b := range data {
		f := b ^ r[0]
		copy(r, r[1:])
		r[len(r)-1] = 0
		for i, g := range by {
			r[i] ^= times(g, f)
		}
	}
	return r
}

// blank is a code with all that is no data, but for what tells the format.
func blank(version int) *Code {
	n := 4*version + 17
	c := &Code{Size: n, black: make([]bool, n*n), fixed: make([]bool, n*n)}
	for i := range n { // the rulers
		c.put(6, i, i%2 == 0)
		c.put(i, 6, i%2 == 0)
	}
	for _, at := range [][2]int{{3, 3}, {n - 4, 3}, {3, n - 4}} { // the eyes
		for dy := -4; dy <= 4; dy++ {
			for dx := -4; dx <= 4; dx++ {
				if x, y := at[0]+dx, at[1]+dy; x >= 0 && y >= 0 && x < n && y < n {
					ring := max(dx, -dx, dy, -dy)
					c.put(x, y, ring != 2 && ring != 4)
				}
			}
		}
	}
	spots := aligned(version)
	for i, x := range spots {
		for k, y := range spots {
			if i == 0 && k == 0 || i == 0 && k == len(spots)-1 || i == len(spots)-1 && k == 0 {
				continue // an eye is there
			}
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					c.put(x+dx, y+dy, max(dx, -dx, dy, -dy) != 1)
				}
			}
		}
	}
	for i := range 9 { // room for the format
		if i != 6 {
			c.put(8, i, false)
			c.put(i, 8, false)
		}
	}
	for i := range 8 {
		c.put(n-1-i, 8, false)
		c.put(8, n-1-i, false)
	}
	c.put(8, n-8, true)
	if version >= 7 {
		bits := version<<12 | left(version, 12, 0x1f25)
		for i := range 18 {
			black := bits>>i&1 == 1
			c.put(n-11+i%3, i/3, black)
			c.put(i/3, n-11+i%3, black)
		}
	}
	return c
}

func (c *Code) put(x, y int, black bool) {
	c.black[y*c.Size+x], c.fixed[y*c.Size+x] = black, true
}

// aligned are the places of the small squares, the same across and down.
func aligned(version int) []int {
	if version == 1 {
		return nil
	}
	n := version/7 + 2
	step := (version*4 + n*2 + 1) / (n*2 - 2) * 2
	if version == 32 {
		step = 26
	}
	out := make([]int, n)
	out[0] = 6
	for i, at := n-1, 4*version+10; i > 0; i, at = i-1, at-step {
		out[i] = at
	}
	return out
}

// left is what is left of bits, moved up by n, when they are divided by a polynomial of
// degree n.
func left(bits, n, by int) int {
	r := bits
	for range n {
		r = r<<1 ^ r>>(n-1)*by
	}
	return r
}

// lay puts the data into the free modules, from the right, up and down in columns of two,
// with the mask of a chessboard.
func (c *Code) lay(data []byte) {
	i, up := 0, true
	for x := c.Size - 1; x > 0; x -= 2 {
		if x == 6 {
			x = 5 // the ruler
		}
		for k := range c.Size {
			y := k
			if up {
				y = c.Size - 1 - k
			}
			for dx := range 2 {
				at := y*c.Size + x - dx
				if c.fixed[at] {
					continue
				}
				bit := i < 8*len(data) && data[i/8]>>(7-i%8)&1 == 1
				i++
				c.black[at] = bit != ((x-dx+y)%2 == 0)
			}
		}
		up = !up
	}
}

// format writes level and mask, twice.
func (c *Code) format(level Level) {
	n := c.Size
	bits := (1 - int(level)) << 3 // L is 01, M is 00; the mask is 0
	bits = bits<<10 | left(bits, 10, 0x537)
	bits ^= 0x5412
	for i := range 15 {
		black := bits>>i&1 == 1
		switch { // beside the eye at the top left
		case i < 6:
			c.put(8, i, black)
		case i < 8:
			c.put(8, i+1, black)
		case i == 8:
			c.put(7, 8, black)
		default:
			c.put(14-i, 8, black)
		}
		if i < 8 {
			c.put(n-1-i, 8, black)
		} else {
			c.put(8, n-15+i, black)
		}
	}
}
