package dxfout

import "strings"

// A fault is a way to damage a file and a part of what the audit says of it.
type fault struct {
	damage func(file string) string
	want   string
}

func replace(old, new string) func(string) string {
	return func(s string) string { return strings.Replace(s, old, new, 1) }
}

// faults are damages that most readers repair without a word.
func faults() map[string]fault {
	inEntities := func(f func(string) string) func(string) string {
		return func(s string) string {
			i := strings.Index(s, "\r\nENTITIES\r\n")
			return s[:i] + f(s[i:])
		}
	}
	line := func(s string) string {
		i := strings.Index(s, "  0\r\nLINE\r\n")
		return s[i : i+1+strings.Index(s[i+1:], "  0\r\n")]
	}
	return map[string]fault{
		"layer that is not there":   {inEntities(replace("  8\r\nCENTRE\r\n", "  8\r\nNOWHERE\r\n")), "LAYER 'NOWHERE' is not defined"},
		"line type not there":       {replace("  6\r\nPHANTOM_0.25\r\n", "  6\r\nFANTASY\r\n"), "LTYPE 'FANTASY' is not defined"},
		"style not there":           {inEntities(replace("  7\r\nBOLTPLATE\r\n", "  7\r\nMissing\r\n")), "STYLE 'Missing' is not defined"},
		"dimension style not there": {inEntities(replace("  3\r\nBOLTPLATE_1-1\r\n", "  3\r\nMissing\r\n")), "DIMSTYLE 'Missing' is not defined"},
		"block not there":           {inEntities(replace("  2\r\nNut M20\r\n", "  2\r\nNut M21\r\n")), "BLOCK 'Nut M21' is not defined"},
		"application not there":     {inEntities(replace("1001\r\nBOLTPLATE\r\n", "1001\r\nOTHER\r\n")), "APPID 'OTHER' is not defined"},
		"seed too low":              {func(s string) string { return setSeed(s, "41") }, "$HANDSEED 41 is not above"},
		"not a number":              {inEntities(replace(" 10\r\n45.0\r\n", " 10\r\nnan\r\n")), "group 10 is nan"},
		"exponent":                  {inEntities(replace(" 10\r\n45.0\r\n", " 10\r\n4.5e1\r\n")), "group 10 is 4.5e1"},
		"line of no length":         {inEntities(replace(" 11\r\n75.0\r\n", " 11\r\n45.0\r\n")), "has no length"},
		"line twice":                {inEntities(func(s string) string { return twice(s, line(s)) }), "is drawn twice"},
		"handle twice":              {inEntities(func(s string) string { l := line(s); return strings.Replace(s, l, l+l, 1) }), "handle used by"},
		"alignment point missing":   {inEntities(replace(" 72\r\n1\r\n 11\r\n45.0\r\n", " 72\r\n1\r\n")), "is aligned to a point that is missing"},
		"outside the extents":       {inEntities(replace(" 11\r\n75.0\r\n", " 11\r\n7500.0\r\n")), "beyond the extents"},
		"a little outside":          {inEntities(replace(" 11\r\n75.0\r\n", " 11\r\n300.01\r\n")), "reaches 0.01 beyond the extents"},
		"picture outside":           {replace(" 11\r\n80.0\r\n 21\r\n-18.0\r\n", " 11\r\n80.0\r\n 21\r\n-118.0\r\n"), "reaches 18 beyond the extents"},
		"circle of no radius":       {inEntities(replace(" 40\r\n8.0\r\n", " 40\r\n0.0\r\n")), "has no radius"},
		"minus zero":                {inEntities(replace(" 20\r\n35.0\r\n", " 20\r\n-0.0\r\n")), "is minus zero"},
		"cut short":                 {func(s string) string { return s[:strings.Index(s, "\r\nOBJECTS\r\n")-200] }, "cannot be read"},
		"owner not there":           {inEntities(replace("330\r\n1F\r\n", "330\r\nABCDEF\r\n")), "which is not there"},
	}
}

// plainFaults are damages to a plain file.
func plainFaults() map[string]fault {
	return map[string]fault{
		"plain with a handle's owner": {replace("  0\r\nLINE\r\n", "  0\r\nLINE\r\n330\r\n1F\r\n"), "group 330 in a file of AC1009"},
		"plain with a later entity":   {replace("  0\r\nCIRCLE\r\n", "  0\r\nELLIPSE\r\n"), "ELLIPSE None in a file of AC1009"},
		"plain with a lower case":     {func(s string) string { return strings.ReplaceAll(s, "\r\nCENTRE\r\n", "\r\nCentre\r\n") }, "LAYER 'Centre': no name in a file of AC1009"},
		"plain with a layer missing":  {func(s string) string { return strings.Replace(s, "  8\r\nCENTRE\r\n", "  8\r\nNOWHERE\r\n", 1) }, "LAYER 'NOWHERE' is not defined"},
		"plain with a polyline twice": {func(s string) string {
			i := strings.Index(s, "  0\r\nPOLYLINE\r\n")
			j := i + strings.Index(s[i:], "  0\r\nSEQEND\r\n  8\r\nOUTLINE\r\n") + len("  0\r\nSEQEND\r\n  8\r\nOUTLINE\r\n")
			return s[:j] + s[i:]
		}, "POLYLINE None is drawn twice"},
		"plain with a corner outside": {replace("VERTEX\r\n  8\r\nOUTLINE\r\n 10\r\n80.0\r\n", "VERTEX\r\n  8\r\nOUTLINE\r\n 10\r\n8000.0\r\n"), "beyond the extents"},
	}
}

// setSeed replaces the value of $HANDSEED.
func setSeed(s, seed string) string {
	const name = "$HANDSEED\r\n  5\r\n"
	i := strings.Index(s, name) + len(name)
	return s[:i] + seed + s[i+strings.Index(s[i:], "\r\n"):]
}

// twice repeats an entity under another handle.
func twice(s, entity string) string {
	i := strings.Index(entity, "  5\r\n") + len("  5\r\n")
	j := i + strings.Index(entity[i:], "\r\n")
	return strings.Replace(s, entity, entity+entity[:i]+"3F"+entity[j:], 1)
}
