package schedule

// A column is one of those that a schedule may have.
type column int

const (
	colMark column = iota
	colQuantity
	colKind
	colSize
	colLength
	colThread
	colForm
	colNeck
	colAngle
	colMaterial
	colTaper
	colWidths
	colNut
	colWasher
	colGrip
	colBasis
	colGoverns
	colRules
	colClass
	colMade
	colFinish
	colEnd
	colUndercut
	colViews
	colLabels
	colKey
	colProjection
	colHidden
	colSection
	colExact
	colConstruction
	colDetail
	colBreak
	colScale
	colNote
	columnCount
	noColumn column = -1
)

func columnNames() [columnCount]string {
	return [columnCount]string{
		"mark", "quantity", "kind", "size", "length", "thread", "form", "neck",
		"angle", "material", "taper", "widths", "nut", "washer", "grip", "basis", "governs",
		"rules", "class", "made", "finish", "end", "undercut",
		"views", "labels", "key", "projection", "hidden", "section", "exact", "construction", "detail", "break", "scale", "note",
	}
}

func (c column) String() string {
	if c < 0 || c >= columnCount {
		return ""
	}
	return columnNames()[c]
}

// columnNamed returns the column with the name, or noColumn.
func columnNamed(name string) column {
	for i, n := range columnNames() {
		if n == name {
			return column(i)
		}
	}
	return noColumn
}

// Columns returns the names of the columns that a schedule may have. The slice
// is the caller's own.
func Columns() []string {
	names := columnNames()
	return names[:]
}
