package looks

import "math"

// Motors, what turns, and what heats.

func commutator(p *pen, bad bool) {
	p.path("m", "M0 52H46V68H0Z")
	p.path("b", "M104 16H160V104H104Z")
	p.path("t", "M104 24C130 34 130 86 104 96M116 16C146 34 146 86 116 104M132 16C160 40 160 80 132 104M148 16L160 30M148 104L160 90")
	if !bad {
		p.path("m", "M46 30H104V90H46Z")
		p.path("t", "M46 35H104M46 42H104M46 51H104M46 60H104M46 69H104M46 78H104M46 85H104")
		return
	}
	p.path("m", "M46 30H56C62 40 84 40 90 30H104V90H90C84 80 62 80 56 90H46Z")
	p.path("t", "M46 35H58M88 35H104M46 42H104M46 51H104M46 60H104M46 69H104M46 78H104M46 85H58M88 85H104")
	p.path("k", "M56 43H92L88 46L92 50H54L58 46ZM52 61H90L86 64L90 68H56L52 65Z")
	p.dots(74, 58, 22, 19, 90)
}

// brush stands in its holder above the commutator, from top to foot.
func brush(p *pen, top, foot float64) {
	p.path("m", "M0 120C30 92 130 92 160 120Z")
	p.path("b", "M50 10H62V92H50ZM98 10H110V92H98Z")
	var spring string
	step := (top - 10) / 5
	for i := range 5 {
		x := 68.0
		if i%2 == 0 {
			x = 92
		}
		spring += "L" + num(x) + " " + num(10+step*(float64(i)+.5))
	}
	p.path("l", "M80 10"+spring+"L80 "+num(top))
	p.path("g", "M64 "+num(top)+"H96V"+num(foot)+"Q80 "+num(foot-4)+" 64 "+num(foot)+"Z")
	p.path("f", "M44 70H50M110 70H116")
}

func shortBrush(p *pen, bad bool) {
	brush(p, either(bad, 36.0, 80.0), 102)
	p.path("t", "M18 70H44M116 70H142")
}

func stuckBrush(p *pen, bad bool) {
	if !bad {
		brush(p, 46, 102)
		return
	}
	brush(p, 24, 80)
	p.dots(63, 56, 3, 26, 30)
	p.dots(97, 56, 3, 26, 30)
	p.path("t", "M120 82V100M116 86L120 81L124 86M116 96L120 101L124 96")
}

func winding(p *pen, bad bool) {
	p.path("m", "M16 14H30V106H16ZM130 14H144V106H130Z")
	p.path("b", "M30 26H130V94H30Z")
	p.rows("t", 19, func(i float64) string { return "M" + num(35+5*i) + " 26V94" })
	if !bad {
		p.path("b", "M64 22H96V98H64Z")
		p.path("t", "M64 22L96 30M64 90L96 98")
		return
	}
	p.path("b", "M64 22H96L90 34L97 46L88 58L92 66H70L74 54L64 44L70 34Z")
	p.path("k", "M34 30H60V90H34ZM100 60H126V92H100Z")
	p.path("b", "M40 46A6 6 0 0 1 52 46ZM44 74A5 5 0 0 1 54 74ZM106 78A6 6 0 0 1 118 78Z")
	p.dots(80, 74, 44, 20, 130)
	p.dots(112, 44, 14, 14, 40)
}

func bearing(p *pen, bad bool) {
	p.path("b", "M22 4H138V116H22Z")
	p.circle("m", 80, 60, 44)
	if !bad {
		p.circle("b", 80, 60, 27)
		p.circle("m", 80, 60, 25)
		p.path("t", "M80 50V70M70 60H90")
		return
	}
	p.oval("k", 80, 62, 28, 35)
	p.circle("m", 80, 71, 25)
	p.path("t", "M80 61V81M70 71H90")
	p.path("t", "M84 26L96 18M92 30L104 22")
}

func stripped(p *pen, bad bool) {
	p.gear("m", 74, 66, 52, 20, func(i int) bool { return bad && (i >= 15 || i == 0) })
	p.circle("b", 74, 66, 11)
	p.circle("t", 74, 66, 28)
	if bad {
		p.path("b", "M132 24L142 22L144 32L136 34ZM140 48L150 50L148 58L140 56ZM124 8L134 6L134 14L126 16Z")
	}
}

func pulleys(p *pen) {
	p.circle("m", 44, 56, 28)
	p.circle("b", 44, 56, 5)
	p.circle("m", 124, 56, 16)
	p.circle("b", 124, 56, 5)
}

func belt(p *pen) {
	p.path("w", "M42 27L124 39A17 17 0 0 1 124 73L42 85A29 29 0 0 1 42 27Z")
}

func beltOff(p *pen, bad bool) {
	pulleys(p)
	if !bad {
		belt(p)
		return
	}
	p.path("w", "M40 27A29 29 0 0 0 20 76Q34 112 84 110Q150 112 142 96Q132 84 108 88Q80 84 66 52Q56 26 40 27Z")
}

func beltPerished(p *pen, bad bool) {
	pulleys(p)
	if !bad {
		belt(p)
		return
	}
	p.path("w", "M84 40Q104 32 124 39A17 17 0 0 1 132 71Q110 96 78 92Q56 90 42 85A29 29 0 0 1 36 28Q50 24 62 36")
	p.path("t", "M84 34L88 46M98 30L101 42M110 82L116 92M92 87L94 99M70 86L68 97M22 34L32 44M14 56H26M134 44L142 36")
	p.path("l", "M62 36L70 34M62 36L68 42M84 40L76 38M84 40L78 46")
}

func roll(p *pen, bad bool) {
	p.path("m", "M0 50H22V70H0ZM138 50H160V70H138Z")
	p.path("b", "M22 40H138V80H22Z")
	p.rows("t", 6, func(i float64) string { return "M" + num(30+18*i) + " 80L" + num(48+18*i) + " 40" })
	p.rows("l", 12, func(i float64) string { return "M" + num(28+9.4*i) + " 40V26M" + num(28+9.4*i) + " 80V94" })
	if !bad {
		return
	}
	p.path("b", "M108 34Q134 24 152 42V78Q134 98 108 88Q102 60 108 34Z")
	p.rows("t", 11, func(i float64) string {
		return "M" + num(108+4*i) + " " + num(36+.3*i) + "Q" + num(114+4*i) + " 60 " + num(106+4.2*i) + " 86"
	})
	p.path("l", "M112 34Q124 60 150 76M150 44Q124 64 112 86M120 30Q112 60 128 92")
	p.path("t", "M128 92Q120 106 138 112M140 88Q150 100 144 114M112 34Q98 20 104 8")
}

// vanes are those of a wheel; some may be gone.
func vanes(p *pen, n int, gone func(i int) bool) {
	for i := range n {
		if gone(i) {
			continue
		}
		x, y, x2, y2, cx, cy := vane(float64(i) / float64(n))
		p.path("f", "M"+num(x)+" "+num(y)+"Q"+num(cx)+" "+num(cy)+" "+num(x2)+" "+num(y2))
	}
}

// vane is where one vane of a wheel begins and ends, and what bends it; turn is
// its place on the wheel, from 0 to 1.
func vane(turn float64) (x, y, x2, y2, cx, cy float64) {
	at := func(a, r float64) (float64, float64) {
		return 74 + float64(r*math.Cos(a)), 60 + float64(r*math.Sin(a))
	}
	a := turn * 2 * math.Pi
	x, y = at(a, 10)
	x2, y2 = at(a+.7, 43)
	cx, cy = at(a+.05, 30)
	return
}

func jammedWheel(p *pen, bad bool) {
	p.circle("b", 74, 60, 52)
	p.path("b", "M74 8H156V34H116")
	vanes(p, 7, func(int) bool { return false })
	p.circle("m", 74, 60, 10)
	if bad {
		p.path("m", "M100 78L112 72L120 80L116 92L104 94L97 86Z")
		p.path("t", "M58 30Q90 20 96 48T70 78M52 50Q84 34 94 62T60 84M44 60Q70 54 84 82M60 24Q50 60 78 92")
		p.dots(92, 92, 16, 8, 24)
	}
}

func brokenWheel(p *pen, bad bool) {
	p.circle("b", 74, 60, 52)
	p.path("b", "M74 8H156V34H116")
	vanes(p, 7, func(i int) bool { return bad && (i == 0 || i == 1 || i == 5) })
	if !bad {
		p.circle("m", 74, 60, 10)
		return
	}
	p.path("k", "M64 60L68 50L76 46L84 52L88 60L82 68L76 74L66 70Z")
	p.circle("m", 77, 62, 7)
	p.path("f", "M96 94Q106 90 112 80M128 100Q138 104 146 98M130 62Q140 56 150 58")
}

func roller(p *pen, bad bool) {
	p.path("m", "M72 2H88V118H72Z")
	if !bad {
		p.path("b", "M48 24Q52 20 80 20Q108 20 112 24V96Q108 100 80 100Q52 100 48 96Z")
		p.dots(80, 60, 28, 34, 110)
		return
	}
	p.path("b", "M48 24Q52 20 80 20Q108 20 112 24V44Q106 60 112 76V96Q108 100 80 100Q52 100 48 96Z")
	p.path("t", "M58 28V92M62 28V92M100 30V44M100 78V92")
	p.path("l", "M112 52L98 54L104 60L94 64M70 100L72 88L66 82M84 20L82 32L88 38")
}

func posts(p *pen) {
	p.path("b", "M4 38H22V82H4ZM138 38H156V82H138Z")
	p.path("t", "M4 48H22M4 72H22M138 48H156M138 72H156")
	p.circle("k", 22, 60, 3)
	p.circle("k", 138, 60, 3)
}

func heatingWire(p *pen, bad bool) {
	posts(p)
	if !bad {
		p.coil("l", 22, 138, 60, 18, 0, 10)
		return
	}
	p.coil("l", 22, 62, 60, 18, 0, 4)
	p.coil("l", 102, 138, 60, 18, 0, 3)
	p.path("l", "M62 60Q68 62 70 72M102 60Q96 56 94 46")
	p.circle("k", 70, 74, 3.5)
	p.circle("k", 94, 44, 3.5)
	p.dots(82, 60, 9, 16, 18)
}

func sagging(p *pen, bad bool) {
	posts(p)
	p.path("m", "M0 98H160V108H0Z")
	p.rows("t", 16, func(i float64) string { return "M" + num(4+10*i) + " 108L" + num(-4+10*i) + " 118" })
	p.coil("l", 22, 138, 60, 12, either(bad, 0.0, 27.0), 11)
	if bad {
		p.dots(80, 98, 20, 6, 26)
	}
}

func tube(p *pen, bad bool) {
	p.path("m", "M24 24V66Q24 104 62 104H98Q136 104 136 66V24H116V64Q116 84 96 84H64Q44 84 44 64V24Z")
	p.path("b", "M22 12H46V26H22ZM114 12H138V26H114Z")
	p.path("f", "M34 12V2M126 12V2")
	p.path("t", "M30 30V66Q32 98 62 98H96")
	if bad {
		p.path("b", "M58 82Q80 72 104 82L106 106Q80 116 56 106Z")
		p.path("k", "M66 92L74 86L78 90L86 84L90 92L98 96L88 99L84 106L76 100L68 102L72 96Z")
		p.dots(82, 94, 34, 20, 110)
	}
}

func ceramic(p *pen, bad bool) {
	p.path("m", "M10 14H150V28H10ZM10 92H150V106H10Z")
	if !bad {
		p.path("b", "M20 28H140V92H20Z")
		p.rows("t", 5, func(i float64) string { return "M" + num(40+20*i) + " 28V92" })
		return
	}
	p.path("b", "M20 28H76L70 42L80 52L68 66L78 78L72 92H20Z")
	p.path("b", "M84 28H140V92H112L104 84L92 92H80L86 78L76 66L88 52L78 42Z")
	p.path("t", "M40 28V92M60 28V92M100 28V86M120 28V92")
	p.path("b", "M92 98L104 90L112 98L102 104Z")
}

func scale(p *pen, bad bool) {
	p.path("m", "M0 20H160V32H0ZM0 88H160V100H0Z")
	if !bad {
		p.rows("t", 3, func(i float64) string {
			y := num(46 + 14*i)
			return "M8 " + y + "H148M142 " + num(43+14*i) + "L149 " + y
		})
		return
	}
	p.path("b", "M0 32H160V48C152 58 144 56 138 48C130 58 118 60 112 50C104 60 92 58 86 49C78 60 66 58 60 48C52 58 40 58 34 50C26 58 10 58 0 46Z")
	p.path("b", "M0 88H160V72C150 62 140 62 132 71C124 62 112 61 104 70C96 61 84 62 76 72C68 61 56 62 48 70C40 61 28 62 20 72C14 64 6 64 0 72Z")
	p.dots(80, 42, 78, 9, 130)
	p.dots(80, 78, 78, 9, 130)
	p.path("t", "M8 59H148M142 56L149 59")
}

func filament(p *pen, bad bool) {
	p.path("b", "M80 4C112 4 124 26 120 48C117 64 100 72 100 88H60C60 72 43 64 40 48C36 26 48 4 80 4Z")
	p.path("m", "M60 88H100V114H60Z")
	p.path("t", "M60 96L100 92M60 104L100 100M60 112L100 108")
	p.path("l", "M72 88L58 42M88 88L102 42M72 88V72H88V88")
	if !bad {
		p.coil("t", 58, 102, 42, 6, 0, 9)
		return
	}
	p.coil("t", 58, 72, 42, 6, 0, 3)
	p.coil("t", 92, 102, 42, 6, 0, 2)
	p.path("l", "M72 42L75 50M92 42L90 34")
	p.dots(80, 20, 26, 12, 80)
}

func bottom(p *pen, bad bool) {
	p.path("m", "M14 10V58A66 50 0 0 0 146 58V10H138V56A58 44 0 0 1 22 56V10Z")
	p.oval("b", 80, 58, 58, 44)
	if !bad {
		p.path("t", "M42 50Q54 30 80 26")
		return
	}
	p.oval("t", 80, 60, 46, 33)
	p.oval("t", 80, 61, 34, 24)
	p.oval("k", 80, 62, 12, 8)
	p.dots(80, 61, 36, 26, 170)
}

func link(p *pen, bad bool) {
	p.path("l", "M0 76H44M116 76H160")
	p.path("m", "M44 62H108L116 72V80L108 90H44Z")
	p.path("t", "M54 70H98M54 76H84")
	p.path("b", "M0 70H22V82H0ZM138 70H160V82H138Z")
	if bad {
		p.path("f", "M30 76C34 20 126 20 130 76")
		p.path("m", "M22 76Q24 68 31 69Q38 70 38 77Q36 84 29 83Q22 83 22 76ZM122 76Q124 68 131 69Q138 70 138 77Q136 84 129 83Q122 83 122 76Z")
	}
}

func ironTip(p *pen, bad bool) {
	p.path("m", "M0 44H64V76H0Z")
	p.path("t", "M8 44V76M56 44V76")
	if !bad {
		p.path("m", "M64 48H100L152 58V62L100 72H64Z")
		p.path("b", "M122 52L152 58V62L122 68Q130 60 122 52Z")
		return
	}
	p.path("m", "M64 48H100L114 51L118 56L126 54L134 60L128 64L122 63L116 70L106 68L100 72H64Z")
	p.path("k", "M104 52L116 54L124 58L132 60L122 62L114 66L104 64L110 58Z")
	p.dots(106, 60, 26, 13, 90)
}
