package calctest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"

	"faultleaf/calc"
)

// Names says which inputs and outputs a room's source names in plain text and
// the calculator has not: in in.Num("…") and its like, out.Set("…") and its like,
// and calc.Bad("…"). A name put together at run time is caught by calc itself.
func Names(c *calc.Calculator, file string, source []byte) []string {
	set := token.NewFileSet()
	tree, err := parser.ParseFile(set, file, source, 0)
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	ast.Inspect(tree, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) == 0 {
			return true
		}
		method, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		lit, ok := call.Args[0].(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return true
		}
		name, _ := strconv.Unquote(lit.Value)
		of, _ := method.X.(*ast.Ident)
		if of == nil {
			return true
		}
		input, isInput := c.Input(name)
		output, isOutput := c.Output(name)
		says := ""
		switch m := method.Sel.Name; {
		case of.Name == "in" && (m == "Num" || m == "Value" || m == "With"):
			if !isInput || input.Kind == "" {
				says = "is no amount that it asks for"
			}
		case of.Name == "in" && m == "Word":
			if !isInput || input.Kind != "" {
				says = "is no word that it asks for"
			}
		case of.Name == "in" && m == "Has", of.Name == "calc" && m == "Bad" && name != "":
			if !isInput {
				says = "is no input of it"
			}
		case of.Name == "out" && (m == "Set" || m == "SetRange" || m == "Num"):
			if !isOutput || output.Kind == "" {
				says = "is no amount that it gives"
			}
		case of.Name == "out" && m == "Say":
			if !isOutput || output.Kind != "" {
				says = "is no word that it gives"
			}
		}
		if says != "" {
			at := set.Position(call.Pos())
			wrong = append(wrong, file+":"+strconv.Itoa(at.Line)+": "+name+" "+says)
		}
		return true
	})
	return wrong
}
