// Package schedule reads hardware schedules: CSV files with one fastener a
// row. Rows come out one at a time as fasteners with the options of their
// drawings, and every error with its line and column.
//
//	r, err := schedule.NewReader(file, "lock.csv")
//	for row, err := range r.Rows() {
//		if err != nil {
//			log.Print(err) // all that is wrong with this row
//			continue
//		}
//		d, err := row.Draw()
//		...
//	}
//
// # The file
//
// Which kinds read which columns, and the words they take, is in
// fastener.Kinds.
//
// The first line that is not blank names the columns, in any order and in
// upper or lower case. It also decides whether cells are separated by commas
// or semicolons. UTF-8 with or without a byte order mark, line ends of either
// kind, quoted cells, blank lines and blanks around cells are all taken; rows
// may end early. A hyphen stands for an empty cell in all columns but mark and
// note. In files separated by semicolons numbers may have a decimal comma.
//
//	mark        names the row and its file; required, each its own
//	quantity    a whole number; 1 where it is left out
//	kind        as fastener.Kinds lists them; required
//	size        a thread, M20 or M12x1.25-LH, or a designation with the
//	            length, M20x90; required
//	length      mm, for kinds that have one
//	thread      thread length, mm
//	form        which of several forms of the kind, such as collar
//	neck        what is under the head: square, snug, pin and others
//	angle       of a countersunk head: 60 or 90
//	material    that a stud is screwed into: steel, cast-iron and others
//	taper       of a taper bolt, such as 1:30
//	widths      of a hexagon by a standard: iso, or din for those of DIN 931 and 934
//	nut         hex, thin, square and others
//	washer      plain, spring, chamfered, grade-c or large
//	grip        what is clamped, mm; for a bolt with a nut
//	basis       proportion or standard
//	governs     corners or flats
//	rules       names rules of one's own (Parser.Rules)
//	class       property class, such as 8.8; free text
//	made        what it is made of, such as brass; free text
//	finish      such as zinc plated; free text
//	end         of a bolt's thread: chamfer, round, dog, cone or cup
//	undercut    of a thread that reaches to the head: regular or short
//	views       such as "front side head"; commas and the like do as well
//	labels      numbers, rules, letters, none or blank
//	key         yes or no: explain the letters of rules; yes where it is left out
//	projection  first or third
//	hidden      yes or no: draw hidden edges
//	section     yes or no: show what is inside in section
//	exact       yes or no: draw true chamfer curves
//	construction  yes or no: leave centres, radii and projection lines
//	detail      full, or simplified as in assembly drawings (ISO 6410-3)
//	break       yes or no: shorten long bolts between break lines
//	scale       at which the drawing will be plotted: 1:2, 2:1, 0.5
//	note        free text
//
// # Errors
//
// What is wrong with one row is an [Errors], a list of [*Error], and does not
// keep other rows from being read. Where the header is wrong no row is handed
// out, but what is wrong with the rows is still said. A quoted cell that is not
// closed takes the rows after it with it, up to a megabyte; reading goes on at
// the line after that. Cells hold at most 240 characters.
package schedule
