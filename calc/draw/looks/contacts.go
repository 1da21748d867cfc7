package looks

// Contacts, tags, wires; plugs, outlets and what batteries touch.

func tag(p *pen, bad bool) {
	p.path("m", "M10 50H66V70H10Z")
	p.circle("b", 22, 60, 4)
	p.path("b", either(bad, "M46 45H92V75H46Z", "M46 36L92 45V75L46 84Z"))
	p.path("t", either(bad, "M46 49H90M46 71H90M58 49V71", "M46 41L90 49M46 79L90 71"))
	p.path("m", "M92 49H108V71H92ZM97 49V71M103 49V71")
	if !bad {
		p.path("b", "M108 51H152V69H108Z")
		return
	}
	p.path("l", "M108 56H124M108 60H124M108 64H124")
	p.path("b", "M152 51H126L121 54L125 58L120 62L126 66L123 69H152Z")
	p.dots(62, 60, 26, 22, 70)
	p.dots(128, 60, 13, 9, 24)
}

// leaves are the springs of a contact.
func leaves(p *pen) {
	p.path("f", "M8 36H100M152 86H60")
	p.path("m", "M2 28H22V44H2ZM138 78H158V94H138Z")
}

func openContact(p *pen) {
	leaves(p)
	p.path("m", "M64 36H96V42Q92 54 80 54Q68 54 64 42Z")
	p.path("m", "M64 86H96V80Q92 68 80 68Q68 68 64 80Z")
}

func burntContact(p *pen, bad bool) {
	if !bad {
		openContact(p)
		return
	}
	leaves(p)
	p.path("m", "M64 36H96V42L92 50L88 45L83 55L78 47L73 53L68 44L64 42Z")
	p.path("m", "M64 86H96V80L91 72L87 78L81 69L77 76L71 70L67 79L64 80Z")
	p.dots(80, 50, 26, 11, 46)
	p.dots(80, 74, 26, 10, 40)
}

func weldedContact(p *pen, bad bool) {
	if !bad {
		openContact(p)
		return
	}
	p.path("f", "M8 38Q60 38 100 42M152 82H60")
	p.path("m", "M2 30H22V46H2ZM138 74H158V90H138Z")
	p.path("m", "M64 40L96 42V48Q90 54 92 61Q93 68 96 76V82H64V76Q67 68 68 61Q69 53 64 46Z")
	p.path("l", "M68 61Q62 58 64 54M92 61Q99 63 96 68M70 60Q80 66 90 60")
	p.dots(80, 61, 18, 8, 22)
}

func slipRing(p *pen, bad bool) {
	p.path("b", "M8 84H152V112H8Z")
	p.path("m", "M8 90H152V104H8Z")
	p.path("m", "M14 14H44V30H14Z")
	p.path("f", either(bad, "M36 30C50 64 74 84 92 86Q102 87 108 78", "M36 30C48 62 66 80 80 85"))
	if !bad {
		p.path("t", "M8 97H152")
		return
	}
	for _, x := range []float64{30, 58, 86, 124} {
		p.oval("k", x, 97, 7, 4)
	}
	p.dots(86, 88, 26, 12, 50)
	p.path("l", "M80 85L86 80M80 85L88 87M80 85L84 92")
}

func blades(p *pen, bad bool) {
	p.path("b", "M14 20H146V52H14Z")
	for i, x := range []float64{34, 72, 110} {
		if bad && i == 1 {
			p.path("m", "M72 52H88V76L98 104L84 108L72 80Z")
			continue
		}
		p.path("m", "M"+num(x)+" 52H"+num(x+16)+"V104L"+num(x+8)+" 110L"+num(x)+" 104Z")
	}
	if bad {
		p.dots(42, 84, 12, 24, 44)
		p.dots(118, 76, 12, 18, 36)
		p.dots(86, 92, 10, 12, 18)
	}
}

func wireOff(p *pen, bad bool) {
	p.path("m", "M10 84H76V98H10Z")
	p.path("b", "M10 98H76V114H10Z")
	if !bad {
		p.path("l", "M98 56L52 80M102 60L56 86M100 58L48 86")
		p.path("m", "M28 84Q40 66 54 74Q66 76 72 84Z")
		p.path("b", "M140 8L154 24L106 68L92 52Z")
		return
	}
	p.path("m", "M28 84Q32 76 40 78L46 72L50 80L56 74L62 80L72 84Z")
	p.path("l", "M106 38Q94 40 88 34M107 40Q96 46 86 44M108 42Q100 50 90 54M110 44Q106 52 100 60")
	p.path("b", "M142 2L156 18L114 48L102 34Z")
}

func screwed(p *pen, bad bool) {
	p.path("m", "M62 34H146V106H62Z")
	p.path("b", "M62 62H146V82H62Z")
	p.path("b", either(bad, "M4 63H56V81H4Z", "M4 63H120V81H4Z"))
	p.path("l", either(bad, "M56 67H130M56 70.5H132M56 74H131M56 77.5H128", "M120 69H130M120 74H128"))
	p.path("b", "M90 12H116V20H112V63H94V20H90Z")
	p.path("f", "M97 12H109")
	p.rows("t", 6, func(i float64) string { return "M94 " + num(27+6*i) + "L112 " + num(24+6*i) })
}

// terminal is a screw on its plate.
func terminal(p *pen, y float64) {
	p.path("m", "M112 "+num(y-13)+"H152V"+num(y+13)+"H112Z")
	p.circle("b", 134, y, 9)
	p.path("l", "M128 "+num(y-4)+"L140 "+num(y+4))
}

func threeCores(p *pen, bad bool) {
	for _, y := range []float64{26, 60, 94} {
		terminal(p, y)
	}
	p.path("e", "M34 56C60 50 62 26 94 26M36 60H94")
	p.path("e", either(bad, "M34 64C60 70 62 94 94 94", "M34 64C48 68 54 78 56 92"))
	p.path("f", either(bad, "M94 26H126M94 60H126M94 94H126", "M94 26H126M94 60H126"))
	if bad {
		p.path("l", "M56 92L54 98M58 92L60 98")
	}
	p.path("b", "M4 44H38V76H4Z")
	p.path("t", "M96 106V112M90 112H102M92 115H100M94 118H98")
}

func cordWindow(p *pen) {
	p.path("t", "M16 46Q22 60 16 76M104 46Q98 60 104 76")
}

func brokenCore(p *pen, bad bool) {
	p.path("b", either(bad, "M0 42H112V78H0Z", "M0 42H56Q70 50 84 42H112V78H84Q70 72 56 78H0Z"))
	p.path("m", "M112 36H122V84H112ZM126 38H134V82H126ZM138 40H146V80H138Z")
	p.path("b", "M122 42H126V78H122ZM134 44H138V76H134ZM146 45H160V75H146Z")
	cordWindow(p)
	p.path("t", "M18 48H102M18 59H102M18 62H102M18 73H102")
	p.path("l", "M19 65.5H101M19 69.5H101")
	if !bad {
		p.path("l", "M19 51.5H101M19 55.5H101")
		return
	}
	p.path("l", "M19 51.5H52L58 48M19 55.5H54L60 58M19 53.5H56M101 51.5H80L75 55M101 55.5H82L76 52M101 53.5H78L74 57")
	p.dots(67, 54, 7, 6, 12)
}

func frayed(p *pen, bad bool) {
	if !bad {
		p.path("b", "M0 44H160V80H0Z")
		p.path("t", "M0 50H160")
		return
	}
	p.path("b", "M0 44H46L52 52L48 58L56 64L50 70L58 80H0Z")
	p.path("b", "M160 44H108L104 52L110 58L102 66L108 72L102 80H160Z")
	p.path("e", "M52 55H106M54 69H104")
	p.path("l", "M70 52L64 30M74 52L74 26M78 52L86 30M82 53L94 36")
	p.path("t", "M58 46Q80 40 102 46M60 78Q80 84 100 78")
}

func chafed(p *pen, bad bool) {
	p.path("e", "M0 40C40 40 52 44 78 56S120 78 160 78")
	p.path("m", "M78 120V70L86 62L94 70V120Z")
	if !bad {
		p.path("b", "M62 40L110 62L104 78L54 56Z")
		return
	}
	p.path("b", "M60 40L76 47L70 52L74 58L66 62L54 56ZM110 62L104 78L94 73L98 68L92 62L98 57Z")
	p.path("l", "M74 55L96 65M76 52L98 62")
	p.dots(86, 66, 14, 9, 26)
}

func plugFace(p *pen, bad bool) {
	p.path("b", either(bad, "M40 16H120Q136 16 136 36V84Q136 104 120 104H40Q24 104 24 84V36Q24 16 40 16Z", "M40 16H120Q136 16 136 36V44Q130 52 133 62Q136 70 136 84Q136 104 120 104H40Q24 104 24 84V36Q24 16 40 16Z"))
	p.circle("m", 56, 60, 10)
	p.circle("m", 104, 60, 10)
	p.circle("t", 56, 60, 4)
	p.circle("t", 104, 60, 4)
	if bad {
		p.dots(106, 58, 26, 28, 120)
		p.path("l", "M92 52Q96 42 106 44Q118 46 119 58Q120 72 108 76")
	}
}

func plugSide(p *pen, bad bool) {
	p.path("m", "M2 34H36V44H2Z")
	p.path("m", either(bad, "M2 76H36V86H2Z", "M4 96L35 76L40 84L9 104Z"))
	p.path("b", "M36 20H92Q116 34 116 60Q116 86 92 100H36Z")
	p.path("b", either(bad, "M112 46H128V74H112Z", "M112 42L126 38V50M112 78L126 84V72"))
	p.path("b", either(bad, "M124 52H160V68H124Z", "M128 58L160 72L154 86L122 70Z"))
	if bad {
		p.path("l", "M64 20L70 36L60 46L74 62L66 76L78 88L74 100")
		p.path("t", "M70 36L82 34M74 62L88 66M60 46L50 48")
	}
}

func socketFace(p *pen) {
	p.path("b", "M20 6H140V114H20Z")
	p.circle("l", 80, 60, 44)
}

func outlet(p *pen, bad bool) {
	socketFace(p)
	p.circle("k", 60, 60, 6)
	p.circle("k", 100, 60, either(bad, 6.0, 9.0))
	if bad {
		p.dots(101, 58, 22, 26, 110)
		p.path("l", "M90 46Q100 38 112 48Q116 60 108 74")
	}
}

func crackedOutlet(p *pen, bad bool) {
	socketFace(p)
	p.circle("k", 60, 60, 6)
	p.circle("k", 100, 60, 6)
	if bad {
		p.path("k", "M140 70V114H104L110 102L118 98L122 86L132 82Z")
		p.path("l", "M20 34L38 40L46 34L62 44L72 40L84 52L92 76L104 84L110 102M84 52L96 30L106 6")
	}
}

// shell is a lamp holder, cut open: its thread and its floor.
func shell(p *pen) {
	p.path("b", "M30 10H40L46 18L40 26L46 34L40 42L46 50L40 58L46 66V92H114V66L120 58L114 50L120 42L114 34L120 26L114 18L120 10H130V110H30Z")
}

func holderTongue(p *pen, bad bool) {
	shell(p)
	p.path("m", "M52 88H64V96H52Z")
	p.path("f", either(bad, "M58 90C60 72 76 58 96 60Q104 61 104 68", "M58 90Q72 86 102 88"))
	p.circle("l", 58, 92, 2)
	if bad {
		p.dots(88, 84, 22, 9, 64)
	}
}

func holderBody(p *pen, bad bool) {
	p.path("b", either(bad, "M34 14H126V50Q126 66 108 70V110H52V70Q34 66 34 50Z", "M34 14H74L78 26L88 32L92 22L98 14H126V50Q126 66 108 70V110H52V70Q34 66 34 50Z"))
	p.path("t", "M34 22H72M100 22H126M34 30H76M94 30H126M34 38H126M34 46H126M52 70H108M52 100H108")
	if bad {
		p.path("l", "M88 32L84 44L92 54L86 66L94 78L88 92")
		p.path("l", "M92 54L102 58")
	}
}

// port is a small socket, seen from the front.
func port(p *pen) {
	p.path("m", "M38 34H122Q144 36 144 60T122 86H38Q16 84 16 60T38 34Z")
	p.path("b", "M42 42H118Q134 44 134 60T118 78H42Q26 76 26 60T42 42Z")
}

func lint(p *pen, bad bool) {
	port(p)
	p.path("b", "M46 55H114V65H46Z")
	p.rows("t", 8, func(i float64) string { return "M" + num(51+8.3*i) + " 55V60" })
	if bad {
		p.path("b", "M34 74Q28 58 40 52Q46 44 58 50Q66 42 78 50Q92 42 98 52Q112 48 116 58Q130 62 124 74Q112 80 80 77Q48 80 34 74Z")
		p.dots(79, 63, 44, 12, 120)
		p.path("t", "M40 60Q54 50 66 62T94 58T118 66M48 70Q62 62 78 70T110 68")
	}
}

func tongue(p *pen, bad bool) {
	port(p)
	if !bad {
		p.path("b", "M46 55H114V65H46Z")
		p.rows("t", 8, func(i float64) string { return "M" + num(51+8.3*i) + " 55V60" })
		return
	}
	p.path("b", "M46 62L92 70L88 73L92 76L86 80L44 74Z")
	p.rows("t", 5, func(i float64) string {
		return "M" + num(51+8.3*i) + " " + num(64+1.4*i) + "L" + num(50.5+8.3*i) + " " + num(69+1.4*i)
	})
	p.path("b", "M100 104L118 98L124 106L106 113L109 109L103 108Z")
}

func cell(p *pen, bad bool) {
	p.path("l", "M2 18V102H158V18")
	p.path("b", "M44 34H136V86H44Z")
	p.path("m", "M136 52H146V68H136Z")
	p.path("t", "M60 34V86M124 54V66M118 60H130")
	p.path("f", either(bad, "M4 60L14 40L20 80L27 40L33 80L38 46L44 60", "M4 60L14 40L20 80L24 52"))
	if bad {
		p.path("b", "M44 32Q30 28 28 40Q16 42 20 54Q10 60 18 68Q14 80 26 82Q28 96 44 90Q56 92 54 78Q62 70 54 60Q62 48 54 40Q54 30 44 32Z")
		p.dots(38, 61, 20, 28, 110)
		p.dots(34, 97, 16, 5, 26)
	}
}

func pack(p *pen, bad bool) {
	if bad {
		p.path("b", "M20 42C50 10 110 10 140 42V82C110 114 50 114 20 82Z")
		p.path("k", "M20 62C60 52 100 52 140 62C100 70 60 70 20 62Z")
		p.path("t", "M44 32Q80 16 116 32M44 92Q80 108 116 92")
		return
	}
	p.path("b", "M20 38H140V86H20Z")
	p.path("l", "M20 62H140")
	p.path("t", "M44 46H116M44 78H116")
}
