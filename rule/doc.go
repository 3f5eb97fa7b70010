// Package rule holds proportions as expressions, such as the drawing office's
// "1.5D + 3" for the width across flats of a bolt's head. A rule is read once;
// its value, the text on a drawing and the working that a student follows are
// made from the same expression, so that they cannot differ.
//
//	e, err := rule.Parse("1.5D + 3")
//	e.String()                  // "1.5D + 3"
//	e.Eval(values.Get)          // 33, with D = 20
//	e.Working("W", "mm", ...)   // W = 1.5D + 3 = 1.5 × 20 + 3 = 33 mm
//
// # How a rule is written
//
//	number      2  0.8  0,8  ½  1½  ⅔, at most 15 digits
//	letter      a letter with letters, digits and primes behind it: D d3 Lt R'
//	π           also pi
//	+ - × /     also * · ÷ and the dashes that word processors put for a minus
//	² ³ ^       D²  D^2  D^0.5  D^(1/3)
//	√ sin cos tan    of a number or a letter, or of what stands in parentheses;
//	            angles are in degrees, with or without °: cos 30°  √(R² - i²)
//	min max     of two values or more: max(0.1D, 2)
//	up down round    to a multiple of a step: up(2.5P, 0.1)
//	near        the nearest of preferred values: near(2.5P, 5, 6.3, 7.5)
//	upto        by ranges: upto(L, 125, 2D + 6, 200, 2D + 12, 2D + 25) is
//	            2D + 6 for L up to 125, 2D + 12 up to 200 and 2D + 25 beyond
//	≈           what the trade rounds the whole to: 2.5P ≈ 6.3
//
// All of it can be typed on any keyboard: sqrt for √, deg for °, ~ for ≈, * for
// ×, ^2 for ².
//
// Factors may stand side by side: 2D, 2(D + 1), A cos 30°, C Lt. A number comes
// first. What can be read in two ways is not guessed at but refused, with both
// ways in the message:
//
//	D/2P        D/(2P) or D/2 × P; only fractions of whole numbers, 2/3 D,
//	            and those of π, π/4 D², need no sign behind them
//	cos 2D      cos(2D) or cos 2° × D
//	√D²         √(D²) or (√D)²
//	2 x D       × or *, since x may be a letter: 2D or 2 × x × D
//	max(1,5)    1.5 or two values; with a blank behind a comma, or semicolons
//	            between the arguments, it is clear
//
// Letters are told apart by upper and lower case. Where the known letters are
// given to a [Parser], letters need no blank between them as long as they can
// be told apart, the longest first: with C and Lt known, CLt is C × Lt, and
// Acos30 is A cos 30°. Otherwise a run of letters and digits is one letter.
//
// A rule has at most 400 characters and 40 parentheses in each other.
//
// # What a rule prints
//
// [Expr.String] is the one text of a rule: × only where it is needed, ² and ³,
// √, a hyphen between blanks for the minus. Reading it gives the same rule
// again. [Format] is the one place where numbers become text, with as many
// decimals as wanted and a decimal comma where one is wanted.
//
// # Rules that use each other
//
// [Expr.Inline] puts rules into a rule and simplifies it, so that (D + p)/2 with
// p = 0.2D is 0.6D: a drawing shows rules in D, L and P where they are short
// enough, and a key explains the letters that are left. A [System] puts the
// rules of a part in the order in which they can be worked out, and finds
// circles.
//
// # Rules of one's own
//
// A [Set] is a college's or an office's own rules; [Set.Apply] puts them in the
// place of those of a kind of part, and [Set.Check] says what is wrong with
// them.
//
// # Errors
//
// Text that is no rule is a [*SyntaxError], an unknown letter a [*LetterError]
// with near misses, what cannot be worked out a [*ValueError]; each has the
// column, and says what would be right. Rules that use each other in a circle
// are a [*CycleError], two for one letter a [*DuplicateError], unknown names a
// [*NameError], and an entry of a set that does not fit an [*EntryError], which
// unwraps to one of these. A rule that becomes too long by others put into it is
// a [*SizeError].
//
// Everything in this package may be used by many goroutines at once.
package rule
