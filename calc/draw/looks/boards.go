package looks

// Boards and the parts on them.

func can(p *pen, bad bool) {
	p.path("l", "M70 98V112M90 98V112")
	p.path("f", "M24 112H136")
	p.path("b", "M50 38V94C50 106 110 106 110 94V38Z")
	p.path("t", "M92 48V102M106 46V97M96 58H102M96 72H102M96 86H102")
	if !bad {
		p.oval("m", 80, 38, 30, 10)
		p.path("l", "M62 33L98 43M62 43L98 33")
		return
	}
	p.path("m", "M50 40C52 4 108 4 110 40C108 52 52 52 50 40Z")
	p.path("k", "M66 24L78 22L80 15L84 22L96 25L84 28L80 36L76 28Z")
	p.dots(82, 24, 20, 9, 44)
	p.dots(80, 107, 40, 5, 60)
}

func joint(p *pen, bad bool) {
	p.path("m", "M0 50H60V70H0Z")
	p.circle("m", 80, 60, 46)
	p.circle("b", 80, 60, 36)
	if !bad {
		p.path("m", "M72 52H88V68H72Z")
		p.path("t", "M56 60A24 24 0 0 1 80 36M102 72A24 24 0 0 1 92 82")
		return
	}
	p.path("f", "M66 44A21 21 0 0 1 100 52M101 58A21 21 0 0 1 86 81M80 81A21 21 0 0 1 60 54")
	p.path("t", "M100 52L106 48M86 81L90 88M60 54L52 50M66 44L62 38")
	p.path("m", "M72 52H88V68H72Z")
	p.dots(80, 60, 21, 21, 60)
}

func track(p *pen, bad bool) {
	p.path("b", "M0 78H160V102H0Z")
	if !bad {
		p.path("f", "M4 76H156")
		p.path("m", "M96 76Q112 72 115 48H125Q128 72 144 76Z")
		p.path("k", "M117 34H123V116H117Z")
		return
	}
	p.path("f", "M4 76H50L56 74")
	p.path("f", "M66 62Q78 48 96 46L150 40")
	p.path("l", "M56 74L60 70M66 62L62 60M66 62L70 64")
	p.path("m", "M96 45Q110 40 113 20H123Q128 38 146 40Z")
	p.path("k", "M115 6H121V112H115Z")
	p.path("t", "M70 76H112M124 76H156")
}

func burntPart(p *pen, bad bool) {
	p.path("b", "M4 8H156V112H4Z")
	p.circle("m", 22, 60, 9)
	p.circle("m", 138, 60, 9)
	p.path("f", "M22 60H46M114 60H138")
	p.path("b", "M46 46Q46 40 54 40Q62 40 66 46H94Q98 40 106 40Q114 40 114 46V74Q114 80 106 80Q98 80 94 74H66Q62 80 54 80Q46 80 46 74Z")
	if !bad {
		p.path("k", "M56 40H61V80H56ZM72 46H77V74H72ZM84 46H89V74H84ZM101 41H105V79H101Z")
		return
	}
	p.dots(80, 60, 56, 44, 260)
	p.path("k", "M62 46L70 54L66 62L76 58L80 70L86 56L96 62L98 48L86 50L80 44L72 50Z")
}

func burstPart(p *pen, bad bool) {
	p.path("m", "M46 4H114V34H46Z")
	p.circle("b", 80, 18, 8)
	p.path("b", "M42 32H118V80H42Z")
	p.path("m", "M52 80H60V118H52ZM76 80H84V118H76ZM100 80H108V118H100Z")
	if !bad {
		p.path("t", "M54 46H106M54 56H94")
		return
	}
	p.path("k", "M66 54L72 46L80 50L88 42L94 52L102 58L94 64L96 72L84 68L76 74L72 64L62 64Z")
	p.path("l", "M66 54L42 46M94 52L118 38M96 72L104 80M72 64L60 80")
	p.dots(82, 58, 36, 24, 110)
}

func varistor(p *pen, bad bool) {
	p.path("l", "M64 84V118M96 84V118")
	p.circle("b", 80, 50, 44)
	if !bad {
		p.path("t", "M60 40H100M66 52H94")
		return
	}
	p.path("k", "M70 6L76 26L66 40L82 54L74 70L86 94L94 92L92 72L98 56L84 42L92 24L84 6Z")
	p.path("l", "M66 40L44 34M74 70L54 80M98 56L120 62")
	p.dots(80, 50, 42, 42, 190)
}

func ntc(p *pen, bad bool) {
	if !bad {
		p.path("l", "M60 84V118M100 84V118")
		p.circle("m", 80, 50, 42)
		p.path("t", "M62 50H98")
		return
	}
	p.path("l", "M54 86L48 118M104 84V118")
	p.path("m", "M72 10L64 24L74 38L62 54L72 68L64 92A42 42 0 0 1 72 10Z")
	p.path("m", "M88 8A42 42 0 0 1 84 92L90 70L80 54L92 40L82 24Z")
}

func filmCapacitor(p *pen, bad bool) {
	p.path("f", "M8 104H152")
	p.path("l", "M48 92V118M112 92V118")
	if !bad {
		p.path("b", "M26 20H134V92H26Z")
		p.path("t", "M40 40H120M40 54H100")
		return
	}
	p.path("b", "M26 24Q56 8 80 18Q108 6 134 24Q146 56 134 92H26Q14 56 26 24Z")
	p.path("k", "M80 18L72 36L82 48L70 64L80 78L76 92L88 92L86 76L94 62L84 48L90 34Z")
	p.path("l", "M72 36L52 32M94 62L118 70M70 64L50 74")
	p.dots(80, 62, 26, 30, 70)
}

// tracks are four joints on a board, joined in pairs.
func tracks(p *pen) {
	p.path("b", "M4 6H156V114H4Z")
	p.path("m", "M30 29H96L110 43H136V51H106L92 37H30ZM30 81H76L92 69H136V77H96L80 89H30Z")
	for _, c := range [][2]float64{{30, 33}, {136, 47}, {30, 85}, {136, 73}} {
		p.circle("b", c[0], c[1], 11)
		p.circle("k", c[0], c[1], 3)
	}
}

func corroded(p *pen, bad bool) {
	tracks(p)
	if !bad {
		return
	}
	p.path("b", "M56 26L64 32L58 40H78L74 33L80 26ZM60 78L66 84L60 92H74L70 84L76 78Z")
	p.path("b", "M16 20Q30 10 44 20Q54 28 46 42Q34 54 20 46Q8 36 16 20ZM18 74Q30 66 42 74Q52 82 44 96Q30 104 20 96Q12 86 18 74Z")
	p.dots(30, 33, 17, 15, 70)
	p.dots(31, 85, 15, 14, 60)
	p.dots(70, 58, 26, 34, 90)
}

func residue(p *pen, bad bool) {
	tracks(p)
	if !bad {
		return
	}
	p.path("t", "M44 104Q30 84 50 66Q62 54 56 36Q66 14 90 22Q118 18 120 44Q128 62 112 78Q110 98 84 100Q62 112 44 104Z")
	p.path("t", "M54 94Q46 82 60 70Q72 58 68 42Q76 28 92 34Q108 34 108 50Q112 62 100 72Q98 88 80 90Q64 100 54 94Z")
	p.path("t", "M70 78L76 84M76 78L70 84M86 50L92 56M92 50L86 56M80 64V72M76 68H84M98 46V52M95 49H101")
	p.dots(84, 62, 30, 38, 80)
}

// fuse is a glass tube between its caps.
func fuse(p *pen) {
	p.path("b", "M36 38H124V82H36Z")
	p.path("m", "M6 34H40V86H6ZM120 34H154V86H120Z")
	p.path("t", "M46 45H112")
}

func clearFuse(p *pen, bad bool) {
	fuse(p)
	if !bad {
		p.path("l", "M40 60H120")
		return
	}
	p.path("l", "M40 60Q54 60 62 65M120 60Q106 60 100 56")
	p.circle("k", 64, 66, 3.5)
	p.circle("k", 98, 55, 3.5)
}

func blackFuse(p *pen, bad bool) {
	fuse(p)
	if !bad {
		p.path("l", "M40 60H120")
		return
	}
	p.path("k", "M48 40H112Q104 50 110 60Q102 70 110 80H50Q58 70 50 60Q58 50 48 40Z")
	p.dots(80, 60, 40, 20, 130)
}

func leds(p *pen, bad bool) {
	p.path("b", "M4 24H156V96H4Z")
	for i, x := range []float64{18, 66, 114} {
		p.path("m", "M"+num(x)+" 44H"+num(x+30)+"V76H"+num(x)+"Z")
		p.circle("b", x+15, 60, 11)
		if bad && i == 1 {
			p.circle("k", x+15, 60, 5.5)
			p.dots(x+15, 60, 21, 21, 80)
		}
	}
	p.path("t", "M4 60H18M48 60H66M96 60H114M144 60H156")
}

func control(p *pen, bad bool) {
	p.path("b", "M80 8A50 50 0 1 1 79.9 8Z")
	p.path("g", "M46 96A48 48 0 1 1 114 96L104 82A30 30 0 1 0 56 82Z")
	p.path("m", "M40 92H56V116H40ZM104 92H120V116H104Z")
	p.path("f", "M80 60L104 34")
	p.circle("m", 80, 60, 10)
	if bad {
		p.path("b", "M92 22L100 28L97 34L106 34L112 42L105 46L98 40L92 38L87 30Z")
		p.dots(98, 32, 20, 14, 30)
	}
}
