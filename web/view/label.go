package view

// LabelSheet is a page of labels for paper, and on screen the form beside it.
type LabelSheet struct {
	Title, Shop, Lang   string
	Back, Action, Empty string // Empty says why there is no label yet
	Letter              bool
	Style, Sheet        string // style sheets
	Script, Icon        string
	For                 string
	Form                Form
	Kept                []Pair // the numbers of the calculation, sent along
	Copies              int
	Label               Label
}

// Label is one label.
type Label struct {
	Title         string
	Lines         []string
	Statements    []string // hazards in the words of the regulation
	Cautions      []string
	Made, By, For string
	Shop, Phone   string
}

func (s LabelSheet) paper() string {
	if s.Letter {
		return "labels letter"
	}
	return "labels a4"
}

func (s LabelSheet) lang() string {
	if s.Lang == "" {
		return "en"
	}
	return s.Lang
}

// copies counts the labels of the page.
func (s LabelSheet) copies() []struct{} { return make([]struct{}, s.Copies) }

func (s LabelSheet) copiesChosen() string {
	if s.Copies > 1 {
		return "sheet"
	}
	return "one"
}
