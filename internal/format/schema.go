package format

import (
	"bytes"
	"encoding/json"
	"slices"
)

// Schema is a JSON Schema (draft 2020-12) of a kind's front matter, for editors
// that offer keys and mark mistakes while one types. It knows the forms of
// values and no more: what notes say of each other, inspect checks.
func (k *Kind) Schema() []byte {
	s := fields{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", k.Title}, {"description", k.Says}}
	if k.Each != "" {
		s = append(s, field{"type", "object"}, field{"additionalProperties", group(k.Keys).schema(false)})
	} else {
		s = append(s, group(k.Keys).schema(false)...)
		if extra := k.Keys.unless(); extra != nil {
			s = append(s, field{"anyOf", extra})
		}
	}
	b, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic(err) // plain texts, numbers and lists
	}
	return append(b, '\n')
}

// fields are a JSON object that keeps its order.
type fields []field

type field struct {
	name  string
	value any
}

// MarshalJSON writes the fields in their order.
func (f fields) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, x := range f {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := json.Marshal(x.name)
		if err != nil {
			return nil, err
		}
		var value bytes.Buffer
		enc := json.NewEncoder(&value)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(x.value); err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(bytes.TrimSpace(value.Bytes()))
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// unless are the sets of keys of which one must be there, where a key makes
// others needless; nil where none does.
func (ks Keys) unless() []fields {
	by := map[string][]string{}
	var order []string
	for _, k := range ks {
		if k.Remedy() == "" || k.Unless == "" || ks.Find(k.Unless) == nil || ks.Find(k.Unless).In != OfBlocks {
			continue
		}
		if by[k.Unless] == nil {
			order = append(order, k.Unless)
		}
		by[k.Unless] = append(by[k.Unless], k.Name)
	}
	if len(order) != 1 {
		return nil
	}
	whole := fields{}
	for _, name := range by[order[0]] {
		v := ks.Find(name).Value
		if v.Refines {
			v.Refines = false
			whole = append(whole, field{name, fields{{"anyOf", alternatives(v, false)}}})
		}
	}
	return []fields{{{"required", []string{order[0]}}}, {{"required", by[order[0]]}, {"properties", whole}}}
}

// required are the keys that must be there whatever else is.
func (ks Keys) required() []string {
	var out []string
	for _, k := range ks {
		if k.Remedy() != "" && k.Unless == "" && !(k.Name == "title" && ks.Find("like") != nil && ks.Find("like").Refused == "") {
			out = append(out, k.Name)
		}
	}
	return out
}

// nothing is an empty value, which counts as none.
var nothing = fields{{"type", "null"}}

func (v Value) schema(part bool) fields {
	part = part || v.Refines
	switch v.Shape {
	case Name:
		return fields{{"type", []string{"string", "integer"}}, {"pattern", "^[a-z0-9]([a-z0-9-]*[a-z0-9])?$"}}
	case Number:
		f := fields{{"type", "number"}, {"minimum", v.Low}}
		if v.High < 1e9 {
			f = append(f, field{"maximum", v.High})
		}
		return f
	case Flag:
		return fields{{"type", "boolean"}}
	case Word:
		var words []any
		for _, w := range v.Words {
			words = append(words, w)
			switch w { // an editor reads these as what they mean
			case "true":
				words = append(words, true)
			case "false":
				words = append(words, false)
			}
		}
		return fields{{"enum", words}}
	case Group:
		props := fields{}
		for _, k := range v.Keys {
			if k.Refused != "" {
				continue
			}
			p := fields{{"description", k.Help}, {"anyOf", append(alternatives(k.Value, part), nothing)}}
			props = append(props, field{k.Name, p})
		}
		f := fields{{"type", "object"}, {"properties", props}}
		if need := v.Keys.required(); len(need) > 0 && !part {
			f = append(f, field{"required", need})
		}
		if v.Of != nil {
			return append(f, field{"additionalProperties", fields{{"anyOf", append(alternatives(*v.Of, part), nothing)}}})
		}
		return append(f, field{"additionalProperties", false})
	case Map:
		return fields{{"type", "object"}, {"additionalProperties", fields{{"anyOf", append(alternatives(*v.Of, part), nothing)}}}}
	case List, Either:
		return fields{{"anyOf", alternatives(v, part)}}
	}
	return fields{{"type", []string{"string", "number", "boolean"}}}
}

// alternatives are the forms that a value may have.
func alternatives(v Value, part bool) []fields {
	part = part || v.Refines
	var out []fields
	switch v.Shape {
	case List:
		if v.Loose {
			return []fields{{{"type", "array"}}}
		}
		items := fields{{"anyOf", alternatives(*v.Of, part)}}
		out = append([]fields{{{"type", "array"}, {"items", items}}}, alternatives(*v.Of, part)...)
	case Either:
		for _, o := range v.Or {
			out = append(out, alternatives(o, part)...)
		}
	default:
		out = []fields{v.schema(part)}
	}
	if part && !slices.ContainsFunc(out, func(f fields) bool { return f[0].name == "const" }) {
		out = append(out, fields{{"const", "no"}})
	}
	return out
}
