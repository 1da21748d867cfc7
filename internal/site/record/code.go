package record

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
	"sort"
	"sync"
	"unsafe"
)

// Encode writes a value of plain types: numbers, texts, lists, maps, structs and
// pointers to them. Equal values give equal bytes. The form is that of the type
// as it is compiled, so a key of what is kept names the program too.
func Encode(v any) []byte {
	x := reflect.ValueOf(v)
	if x.Kind() == reflect.Pointer { // of a value and of what points to it alike
		x = x.Elem()
	}
	scratch := buffers.Get().(*[]byte)
	defer buffers.Put(scratch)
	*scratch = encode((*scratch)[:0], x)
	return bytes.Clone(*scratch) // of just its length: what is decoded of it holds it
}

var buffers = sync.Pool{New: func() any { return new([]byte) }}

func encode(b []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1)
		}
		return append(b, 0)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return binary.AppendVarint(b, v.Int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return binary.AppendUvarint(b, v.Uint())
	case reflect.Float32, reflect.Float64:
		return binary.LittleEndian.AppendUint64(b, math.Float64bits(v.Float()))
	case reflect.String:
		return append(binary.AppendUvarint(b, uint64(v.Len())), v.String()...)
	case reflect.Slice:
		if v.IsNil() {
			return append(b, 0)
		}
		b = binary.AppendUvarint(b, uint64(v.Len())+1)
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return append(b, v.Bytes()...)
		}
		for i := range v.Len() {
			b = encode(b, v.Index(i))
		}
		return b
	case reflect.Array:
		for i := range v.Len() {
			b = encode(b, v.Index(i))
		}
		return b
	case reflect.Map:
		if v.IsNil() {
			return append(b, 0)
		}
		b = binary.AppendUvarint(b, uint64(v.Len())+1)
		entries := make([]string, 0, v.Len())
		for it := v.MapRange(); it.Next(); {
			entries = append(entries, string(encode(encode(nil, it.Key()), it.Value())))
		}
		sort.Strings(entries)
		for _, e := range entries {
			b = append(b, e...)
		}
		return b
	case reflect.Struct:
		for i := range v.NumField() {
			b = encode(b, v.Field(i))
		}
		return b
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, 0)
		}
		return encode(append(b, 1), v.Elem())
	case reflect.Interface:
		if v.IsNil() {
			return b
		}
	}
	panic(fmt.Sprintf("record: a %s cannot be kept", v.Type()))
}

// Decode reads what Encode wrote of the type that v points to. Texts and bytes of v
// share the memory of b.
func Decode(b []byte, v any) (err error) {
	defer func() {
		if e := recover(); e != nil {
			err = fmt.Errorf("record: %v", e)
		}
	}()
	d := decoder{b}
	d.value(reflect.ValueOf(v).Elem())
	if len(d.b) > 0 {
		return fmt.Errorf("record: %d bytes are left over", len(d.b))
	}
	return nil
}

type decoder struct{ b []byte }

func (d *decoder) uvarint() uint64 {
	x, n := binary.Uvarint(d.b)
	if n <= 0 {
		panic("it ends early")
	}
	d.b = d.b[n:]
	return x
}

// length is a number of things that take a byte each at least; where they may
// take none, nothing is made of it in advance.
func (d *decoder) length(x uint64, empty bool) int {
	if x > uint64(len(d.b)) && !empty || x > 1<<30 {
		panic("it ends early")
	}
	return int(x)
}

func (d *decoder) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(d.take(1)[0] != 0)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		x, n := binary.Varint(d.b)
		if n <= 0 {
			panic("it ends early")
		}
		d.b = d.b[n:]
		v.SetInt(x)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(d.uvarint())
	case reflect.Float32, reflect.Float64:
		v.SetFloat(math.Float64frombits(binary.LittleEndian.Uint64(d.take(8))))
	case reflect.String:
		if b := d.take(d.length(d.uvarint(), false)); len(b) > 0 {
			v.SetString(unsafe.String(&b[0], len(b)))
		}
	case reflect.Slice:
		n := d.uvarint()
		if n == 0 {
			return
		}
		size := d.length(n-1, v.Type().Elem().Size() == 0)
		if v.Type().Elem().Kind() == reflect.Uint8 {
			v.SetBytes(d.take(size))
			return
		}
		s := reflect.MakeSlice(v.Type(), size, size)
		for i := range size {
			d.value(s.Index(i))
		}
		v.Set(s)
	case reflect.Array:
		for i := range v.Len() {
			d.value(v.Index(i))
		}
	case reflect.Map:
		n := d.uvarint()
		if n == 0 {
			return
		}
		size := d.length(n-1, false)
		t := v.Type()
		m := reflect.MakeMapWithSize(t, size)
		for range size {
			key, x := reflect.New(t.Key()).Elem(), reflect.New(t.Elem()).Elem()
			d.value(key)
			d.value(x)
			m.SetMapIndex(key, x)
		}
		v.Set(m)
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Field(i)
			if !f.CanSet() { // a field that its package keeps to itself
				f = reflect.NewAt(f.Type(), unsafe.Pointer(f.UnsafeAddr())).Elem()
			}
			d.value(f)
		}
	case reflect.Pointer:
		if d.take(1)[0] != 0 {
			p := reflect.New(v.Type().Elem())
			d.value(p.Elem())
			v.Set(p)
		}
	case reflect.Interface:
	default:
		panic("a " + v.Type().String() + " is not kept")
	}
}

func (d *decoder) take(n int) []byte {
	if n > len(d.b) {
		panic("it ends early")
	}
	b := d.b[:n:n]
	d.b = d.b[n:]
	return b
}
