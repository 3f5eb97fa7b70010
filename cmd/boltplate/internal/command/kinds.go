package command

import (
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
)

type kindsCommand struct{ formatArgument }

type kindJSON struct {
	Name    string       `json:"name"`
	Title   string       `json:"title"`
	Note    string       `json:"note,omitempty"`
	Length  bool         `json:"length"`
	Options []optionJSON `json:"options"`
	Views   []string     `json:"views"`
	Default []string     `json:"default_views"`
	Section bool         `json:"section"`
}

type optionJSON struct {
	Name    string   `json:"name"`
	Values  string   `json:"values"`
	Choices []string `json:"choices,omitempty"`
}

// kindWords returns the names of the kinds.
func kindWords() (out []string) {
	for _, k := range fastener.Kinds() {
		out = append(out, k.Name)
	}
	return out
}

func (c *kindsCommand) Run(e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	kinds := fastener.Kinds()
	switch c.Format {
	case "json":
		out := make([]kindJSON, len(kinds))
		for i, k := range kinds {
			out[i] = kindJSON{k.Name, k.Title, k.Note, k.Length, []optionJSON{}, viewNames(k.Views), viewNames(k.Default), k.Section}
			for _, o := range k.Options {
				out[i].Options = append(out[i].Options, optionJSON(o))
			}
		}
		return writeJSON(e.stdout, out)
	case "csv":
		rows := make([][]string, len(kinds))
		for i, k := range kinds {
			var options []string
			for _, o := range k.Options {
				options = append(options, o.Name+": "+o.Values)
			}
			if k.Section {
				options = append(options, "section: "+sectionValues)
			}
			length := "no"
			if k.Length {
				length = "yes"
			}
			rows[i] = []string{k.Name, k.Title, k.Note, length, strings.Join(options, "; "),
				strings.Join(viewNames(k.Views), " "), strings.Join(viewNames(k.Default), " ")}
		}
		return writeCSV(e.stdout, []string{"name", "title", "note", "length", "options", "views", "default_views"}, rows)
	}
	return writeText(e.stdout, []string{"kind", "what it is", "designation", "option", "values"}, kindRows(kinds))
}

// sectionValues says what the option section does, for a kind that has it.
const sectionValues = "the front view in section"

// kindRows gives every option a row of its own.
func kindRows(kinds []fastener.KindInfo) [][]string {
	var rows [][]string
	for _, k := range kinds {
		designation := "M16"
		if k.Length {
			designation = "M16x80"
		}
		row := []string{k.Name, k.Title, designation}
		for _, o := range k.Options {
			rows = append(rows, append(row, "--"+o.Name, o.Values))
			row = []string{"", "", ""}
		}
		if len(k.Options) == 0 {
			rows = append(rows, row)
		}
		if k.Section {
			rows = append(rows, []string{"", "", "", "--section", sectionValues})
		}
		if k.Note != "" {
			rows = append(rows, []string{"", "(" + k.Note + ")", "", "", ""})
		}
	}
	return rows
}

func viewNames(dirs []drawing.Direction) []string {
	names := make([]string, len(dirs))
	for i, d := range dirs {
		names[i] = d.String()
	}
	return names
}
