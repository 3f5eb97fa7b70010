package command

import (
	"errors"
	"fmt"

	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

// partArguments describe a fastener. Their names are those of the columns of a
// schedule.
type partArguments struct {
	Kind        string `arg:"" predictor:"kind" help:"Kind of fastener; see boltplate kinds."`
	Designation string `arg:"" help:"Thread and length, such as M16x80; M16 for nuts and washers."`

	Length   string `placeholder:"MM" help:"Length, where the designation does not have it."`
	Basis    string `placeholder:"NAME" help:"Where sizes come from: proportion (rules in D, the default) or standard (tables of the standards)."`
	Governs  string `placeholder:"NAME" help:"Width of a hexagon that is kept: corners or flats."`
	Thread   string `placeholder:"MM" help:"Thread length, where it is not that of the standard."`
	Form     string `placeholder:"NAME" help:"Which of several forms of the kind, such as collar; see boltplate kinds."`
	Neck     string `placeholder:"NAME" help:"What is under the head, such as square, snug or pin."`
	Angle    string `placeholder:"DEGREES" help:"Angle of a countersunk head: 60 or 90."`
	Material string `placeholder:"NAME" help:"Material that a stud is screwed into, such as cast-iron."`
	Taper    string `placeholder:"RATIO" help:"Taper of a taper bolt on the diameter, such as 1:30."`
	Widths   string `placeholder:"NAME" help:"Widths across flats of a hexagon by a standard: iso (the default), or din for those of DIN 931, 933 and 934."`
	Nut      string `placeholder:"NAME" help:"Nut on the bolt, such as hex, thin or square; with --grip."`
	Washer   string `placeholder:"NAME" help:"Washer under the nut, such as plain or large."`
	Grip     string `placeholder:"MM" help:"Thickness that is clamped between head and nut."`
	Class    string `placeholder:"TEXT" help:"Property class, such as 8.8, for designations and lists."`
	Made     string `placeholder:"TEXT" help:"What it is made of, such as brass, for designations and lists."`
	Finish   string `placeholder:"TEXT" help:"Finish, such as \"zinc plated\", for designations and lists."`
	End      string `placeholder:"NAME" help:"End of the thread (ISO 4753): chamfer (the default), round, dog, cone or cup."`
	Undercut string `placeholder:"NAME" help:"Undercut of a thread that reaches to the head (DIN 76-1): regular or short."`
	Unlisted bool   `help:"Take sizes and pitches that ISO 261 does not list."`
	rulesArgument
}

// row returns the fastener; more are further cells.
func (a *partArguments) row(e *env, more map[string]string) (schedule.Row, error) {
	own, err := a.load(settings.NewRulesLoader(e.readSettings), "")
	if err != nil {
		return schedule.Row{}, err
	}
	cells := map[string]string{
		"kind": a.Kind, "size": a.Designation, "length": a.Length, "basis": a.Basis, "governs": a.Governs, "thread": a.Thread,
		"form": a.Form, "neck": a.Neck, "angle": a.Angle, "material": a.Material, "taper": a.Taper,
		"widths": a.Widths, "class": a.Class, "made": a.Made, "finish": a.Finish, "end": a.End, "undercut": a.Undercut, "nut": a.Nut, "washer": a.Washer, "grip": a.Grip,
	}
	for k, v := range more {
		cells[k] = v
	}
	row, err := schedule.Parser{AllowUnlisted: a.Unlisted, DecimalComma: true, Own: own}.Parse(cells)
	var all schedule.Errors
	if errors.As(err, &all) {
		for _, one := range all {
			var fe *fastener.FieldError
			if errors.As(one, &fe) && fe.Field == "length" && fe.Value == "" {
				one.Err = fmt.Errorf("%s %s: the length is missing; write it after the thread, such as M16x80 or M16x1.5x80", fe.Kind, a.Designation)
			}
		}
	}
	return row, err
}
