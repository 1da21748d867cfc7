package looks

// Air and water, what holds things, sound and needles.

func filter(p *pen, bad bool) {
	p.path("m", "M6 12H154V24H6ZM6 96H154V108H6Z")
	zig := "M10 90"
	for i := range 7 {
		zig += "L" + num(20+20*float64(i)) + " 30L" + num(30+20*float64(i)) + " 90"
	}
	if bad {
		p.path("k", "M12 88L20 42Q30 52 30 88ZM34 88L40 46Q50 56 50 88ZM52 88L60 40Q70 50 70 88ZM74 88L80 48Q90 56 90 88ZM92 88L100 42Q110 50 110 88ZM114 88L120 46Q130 58 130 88ZM132 88L140 44Q150 54 150 88Z")
		p.dots(80, 36, 70, 16, 240)
	}
	p.path("l", zig)
}

func vent(p *pen, bad bool) {
	p.path("m", "M12 6H148V114H12Z")
	for i := range 5 {
		p.path(either(bad, "k", "b"), "M28 "+num(16+19*float64(i))+"H132V"+num(26+19*float64(i))+"H28Z")
	}
	if bad {
		p.path("b", "M30 20Q44 8 66 18Q92 8 112 20Q138 20 130 44Q140 62 126 76Q130 102 102 98Q78 112 60 100Q30 106 34 80Q22 62 34 46Q22 30 30 20Z")
		p.dots(80, 58, 48, 42, 220)
		p.path("t", "M40 36Q70 20 92 44T124 40M38 66Q60 50 84 72T122 66M48 90Q74 74 98 92M60 100Q54 112 66 118M96 98Q104 108 98 118")
	}
}

func hose(p *pen, bad bool) {
	p.path("m", "M112 30H156V90H112Z")
	p.path("t", "M124 30V90M146 30V90")
	if !bad {
		p.path("b", "M0 38H112V82H0Z")
		p.rows("t", 11, func(i float64) string {
			return "M" + num(6+10*i) + " 38Q" + num(13+10*i) + " 60 " + num(6+10*i) + " 82"
		})
		return
	}
	p.path("b", "M0 38H86L100 34L98 44L90 50L96 58L88 66L92 74L86 82H0Z")
	p.path("b", "M112 38L104 36L108 46L102 54L108 60L102 68L104 82H112Z")
	p.rows("t", 8, func(i float64) string {
		return "M" + num(6+10*i) + " 38Q" + num(13+10*i) + " 60 " + num(6+10*i) + " 82"
	})
	p.path("l", "M90 82L100 84L104 82")
}

func seal(p *pen, bad bool) {
	if !bad {
		p.circle("g", 80, 60, 50)
		p.circle("b", 80, 60, 34)
		p.path("t", "M44 44A40 40 0 0 1 66 22")
		return
	}
	p.path("g", "M84 10Q128 14 130 60T84 108Q34 110 30 62Q28 34 52 18L58 34Q46 44 46 60Q48 92 82 92Q112 92 114 60Q112 30 80 26Z")
	p.path("t", "M58 34L66 26M84 10L76 18")
	p.path("l", "M32 74L42 70L38 66M116 84L108 78L114 74M70 106L72 96L78 98M124 40L114 42")
}

func seam(p *pen, bad bool) {
	p.path("b", "M14 6H146V58H14Z")
	p.path("b", "M14 58H146V112H14Z")
	p.path("m", "M8 53H152V63H8Z")
	if !bad {
		return
	}
	for _, d := range [][3]float64{{44, 78, 7}, {84, 88, 9}, {112, 74, 6}} {
		x, y, r := d[0], d[1], d[2]
		p.path("b", "M"+num(x)+" "+num(y-r*2)+"C"+num(x+r*1.6)+" "+num(y)+" "+num(x+r)+" "+num(y+r)+" "+num(x)+" "+num(y+r)+"C"+num(x-r)+" "+num(y+r)+" "+num(x-r*1.6)+" "+num(y)+" "+num(x)+" "+num(y-r*2)+"Z")
	}
	p.path("t", "M80 97V112M88 97V112M40 85V98M30 118Q80 110 132 118")
}

func catch(p *pen, bad bool) {
	p.path("m", "M96 0H150V40H112V52H96Z")
	p.path("b", "M10 108V30Q10 22 20 22H28V108Z")
	p.path("b", "M0 104H60V118H0Z")
	if !bad {
		p.path("b", "M24 74H92V56L118 56L118 66L104 86H24Z")
		return
	}
	p.path("b", "M24 80L84 84L80 90L88 94L82 98H24Z")
	p.path("b", "M104 92L124 88L130 98L118 112L104 108L109 102Z")
}

func lever(p *pen, bad bool) {
	p.path("m", "M4 40H28V120H4Z")
	p.circle("b", 16, 72, 6)
	if !bad {
		p.path("b", "M16 64H108V80H16Z")
		p.path("m", "M100 52H142Q152 52 152 62V82Q152 92 142 92H100Z")
		p.path("t", "M112 60V84M122 60V84M132 60V84")
		return
	}
	p.path("b", "M16 64H70L64 70L72 74L66 80H16Z")
	p.path("m", "M98 84L140 92Q150 94 148 104L147 112Q145 120 134 119L94 112Z")
	p.path("b", "M84 84L98 86L95 104L82 100L88 95L80 90Z")
}

func stand(p *pen, bad bool) {
	p.path("m", "M30 98H130Q138 98 138 112H22Q22 98 30 98Z")
	if !bad {
		p.path("b", "M72 4H88V98H72Z")
		p.path("b", "M62 80H98V98H62Z")
		return
	}
	p.path("b", "M62 80L72 84L78 78L86 86L98 80V98H62Z")
	p.path("b", "M112 2L128 8L98 74L90 68L84 74L78 70Z")
	p.path("l", "M72 84L76 98M86 86L84 98")
}

func slackJoint(p *pen, bad bool) {
	p.path("b", "M52 52H72V120H52Z")
	p.path("b", either(bad, "M58 52L148 6L156 20L68 66Z", "M56 46L158 92L150 108L50 64Z"))
	p.circle("m", 62, 58, 16)
	if !bad {
		p.path("m", "M54 50H70V66H54Z")
		return
	}
	p.path("m", "M14 44L28 40L34 54L20 58Z")
	p.path("t", "M34 49L46 56M36 54L46 60M120 30Q142 50 136 76M132 68L136 77L144 70")
}

func hedgeBlades(p *pen, bad bool) {
	upper, lower := "M0 52V36", "M0 68V84"
	for i := range 5 {
		x := 4 + 31*float64(i)
		if bad && i == 3 {
			upper += "H" + num(x) + "L" + num(x+16) + " 10L" + num(x+22) + " 14L" + num(x+15) + " 36"
		} else {
			upper += "H" + num(x) + "L" + num(x+4) + " 8H" + num(x+10) + "L" + num(x+14) + " 36"
		}
		lower += "H" + num(x+8) + "L" + num(x+12) + " 112H" + num(x+18) + "L" + num(x+22) + " 84"
	}
	p.path("m", upper+"H160V52Z")
	p.path("b", "M0 52H160V68H0Z")
	p.path("m", lower+"H160V68Z")
	p.circle("l", 80, 60, 5)
	if bad {
		p.dots(60, 60, 58, 24, 200)
		p.dots(42, 24, 14, 14, 40)
		p.dots(84, 98, 14, 12, 36)
	}
}

func crumbs(p *pen, bad bool) {
	p.path("m", "M34 4H46V104H34ZM114 4H126V104H114Z")
	p.path("b", either(bad, "M26 66H134V84H26Z", "M26 40H134V58H26Z"))
	p.path("f", "M10 108H150")
	p.path("t", "M80 14V30M75 25L80 31L85 25")
	if !bad {
		return
	}
	for i, c := range [][2]float64{{48, 98}, {60, 94}, {74, 99}, {88, 93}, {102, 98}, {66, 82}, {94, 80}, {80, 74}, {54, 84}, {108, 86}, {128, 100}, {30, 100}} {
		r := 6 + float64(i%3)
		p.path("m", "M"+num(c[0]-r)+" "+num(c[1]+2)+"L"+num(c[0]-r*.4)+" "+num(c[1]-r)+"L"+num(c[0]+r*.7)+" "+num(c[1]-r*.6)+"L"+num(c[0]+r)+" "+num(c[1]+r*.5)+"L"+num(c[0])+" "+num(c[1]+r)+"Z")
	}
	p.dots(80, 104, 66, 4, 60)
}

func magnet(p *pen, bad bool) {
	p.path("m", "M14 28H96V46H44V74H96V92H14Z")
	p.path("b", "M48 22H80V52H48ZM48 68H80V98H48Z")
	p.rows("t", 4, func(i float64) string { return "M" + num(54+7*i) + " 22V52M" + num(54+7*i) + " 68V98" })
	if !bad {
		p.path("m", "M98 22H114V98H98Z")
		p.path("b", "M114 54H156V66H114Z")
		return
	}
	p.path("m", "M108 24L124 20L130 96L114 100Z")
	p.path("b", "M126 52L160 48V60L128 64Z")
	p.path("m", "M97 30L105 28L110 36L104 44L97 42ZM97 78L106 76L112 86L104 92L97 90Z")
	p.dots(104, 60, 8, 32, 60)
}

func cone(p *pen, bad bool) {
	p.circle("m", 80, 60, 57)
	p.circle("b", 80, 60, 50)
	p.circle("t", 80, 60, 46)
	p.circle("t", 80, 60, 42)
	p.circle("m", 80, 60, 14)
	p.path("t", "M80 46V30M93 66L108 73M67 66L52 73")
	if bad {
		p.path("k", "M127 34L114 40L112 45L104 46L92 54L104 53L110 56L116 54L130 58A57 57 0 0 0 127 34Z")
		p.path("l", "M127 34L116 30M130 58L118 64")
	}
}

func stylus(p *pen, bad bool) {
	p.path("m", "M0 12H70V46H0Z")
	p.path("t", "M0 96Q10 102 20 96T40 96T60 96T80 96T100 96T120 96T140 96T160 96M0 108H160")
	if !bad {
		p.path("b", "M66 34L130 66L126 74L62 42Z")
		p.path("g", "M118 68L130 66L124 96Z")
		return
	}
	p.path("b", "M66 34L100 46L134 36L137 44L100 56L62 42Z")
	p.path("l", "M134 36L142 42M137 44L140 48")
	p.path("g", "M52 88L62 84L60 92Z")
}

func fluff(p *pen, bad bool) {
	p.path("m", "M0 12H70V46H0Z")
	p.path("t", "M0 96Q10 102 20 96T40 96T60 96T80 96T100 96T120 96T140 96T160 96M0 108H160")
	p.path("b", "M66 34L130 66L126 74L62 42Z")
	p.path("g", "M118 68L130 66L124 96Z")
	if bad {
		p.path("b", "M96 72Q98 58 114 62Q126 52 138 64Q152 68 146 82Q150 96 134 98Q122 106 110 98Q94 98 98 86Q90 80 96 72Z")
		p.dots(122, 81, 25, 18, 100)
		p.path("t", "M100 84Q116 68 128 84T146 76M104 92Q120 84 138 92M110 66Q120 80 112 98M134 64Q126 80 138 96M96 72Q84 66 80 74M146 82Q156 86 158 80")
	}
}

func head(p *pen, bad bool) {
	p.path("m", "M30 20Q80 0 130 20V100Q80 120 30 100Z")
	p.path("b", "M52 30Q80 22 108 30V90Q80 98 52 90Z")
	p.path("t", "M80 27V93M66 28V92M94 28V92")
	if bad {
		p.dots(80, 60, 50, 20, 260)
		p.path("t", "M30 42Q80 34 130 42M30 80Q80 88 130 80")
	}
}

func lens(p *pen, bad bool) {
	p.path("m", "M14 8H146V112H14Z")
	p.circle("b", 80, 60, 42)
	p.circle("b", 80, 60, 32)
	if !bad {
		p.path("t", "M58 54A24 24 0 0 1 76 37M62 60A18 18 0 0 1 78 43")
		return
	}
	p.dots(80, 60, 31, 31, 170)
	p.path("t", "M60 50Q74 62 98 52M58 66Q80 80 104 68M70 44Q80 50 92 42")
}
