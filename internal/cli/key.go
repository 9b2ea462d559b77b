package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"github.com/geocoris/geocoris/internal/engine"
)

func newKey(s Streams) *cobra.Command {
	var o keyOptions
	cmd := &cobra.Command{
		Use:   "key",
		Short: "Which aphid on sorghum is it, by the marks seen?",
		Long: `key tells five aphids on sorghum apart by marks seen through a hand lens on a
wingless adult: the species that fit, those ruled out and by which mark, and what
to look at next. Without flags it asks; leave an answer blank for what you could
not see. Body colour and place on the plant are weighed but never decide. With
--out it writes key.html, the whole key to print, and asks nothing.

Marks: Bowling et al. 2016; keys of Oklahoma State and Louisiana State extension.`,
		Example: `  geocoris key
  geocoris key --cornicles dark --feet dark --patch none
  geocoris key --stripe yes --cornicles tip --json
  geocoris key --out walk`,
		Args: takes(0, 0),
	}
	f := cmd.Flags()
	f.SortFlags = false
	for _, m := range engine.KeyMarks() {
		f.String(m.Name, "", m.Question+" `"+m.Words()+"`")
	}
	f.StringVar(&o.Form, "form", engine.Wingless, "what was looked at: `wingless`, winged or young; only wingless adults decide")
	f.StringVar(&o.Out, "out", "", "`FOLDER` for key.html, the key to print")
	f.BoolVar(&o.Force, "force", false, "overwrite a file of the same name")
	f.BoolVar(&o.JSON, "json", false, "answer in JSON")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		seen, given := map[string]string{}, false
		for _, m := range engine.KeyMarks() {
			if flag := f.Lookup(m.Name); flag.Changed {
				seen[m.Name], given = strings.ToLower(flag.Value.String()), true
			}
		}
		if o.Out != "" && !given {
			return o.page(s)
		}
		if !given {
			var err error
			if seen, err = askMarks(cmd.InOrStdin(), s.Err); err != nil {
				return err
			}
		}
		k, err := engine.Key(engine.KeyRequest{Seen: seen, Form: o.Form})
		if err != nil {
			return err
		}
		if o.Out != "" {
			if err := o.page(s); err != nil {
				return err
			}
		}
		if o.JSON {
			return k.WriteJSON(s.Out)
		}
		_, err = io.WriteString(s.Out, k.Text())
		return err
	}
	return cmd
}

// keyOptions are the flags of key beside its marks.
type keyOptions struct {
	Form, Out   string
	Force, JSON bool
}

// page writes the key to print.
func (o keyOptions) page(s Streams) error {
	files, err := engine.KeyPage()
	if err != nil {
		return err
	}
	if err := writeOnce(s, onceFolder{path: o.Out, force: o.Force}, files); err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Out, "to print: %s\n", filepath.Join(o.Out, "key.html"))
	return err
}

// askMarks asks one mark after the other. On a terminal a wrong answer is asked
// for again, in a pipe it ends the work.
func askMarks(in io.Reader, prompts io.Writer) (map[string]string, error) {
	seen, lines, atTerminal := map[string]string{}, bufio.NewScanner(in), isTerminal(in)
marks:
	for _, m := range engine.KeyMarks() {
		for {
			if atTerminal {
				fmt.Fprintf(prompts, "%s (%s; blank if not seen) ", m.Question, m.Words())
			}
			if !lines.Scan() {
				break marks
			}
			answer := strings.ToLower(strings.TrimSpace(lines.Text()))
			if err := engine.CheckMark(m.Name, answer); err != nil {
				if atTerminal {
					fmt.Fprintf(prompts, "  %s\n", err)
					continue
				}
				return nil, hintedError{err, "answers stand one to a line, in the order of the flags; blank for what was not seen"}
			}
			seen[m.Name] = answer
			break
		}
	}
	if len(seen) == 0 && lines.Err() == nil {
		return nil, hintedError{errors.New("no mark was given"), "give what you saw, such as --cornicles dark --feet dark"}
	}
	return seen, lines.Err()
}
