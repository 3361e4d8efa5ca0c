package fabric

import (
	"fmt"
	"reflect"
)

func diffWhere(path string, a, b reflect.Value, depth int) {
	if depth > 12 {
		return
	}
	if a.Kind() != b.Kind() {
		fmt.Println(path, "kind")
		return
	}
	switch a.Kind() {
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() != b.IsNil() {
			fmt.Println(path, "nil", a.IsNil(), b.IsNil())
			return
		}
		if !a.IsNil() && !(a.Kind() == reflect.Pointer && a.Pointer() == b.Pointer()) {
			diffWhere(path+"*", a.Elem(), b.Elem(), depth+1)
		}
	case reflect.Struct:
		for i := range a.NumField() {
			diffWhere(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i), depth+1)
		}
	case reflect.Slice:
		if a.Len() != b.Len() || a.IsNil() != b.IsNil() {
			fmt.Println(path, "len", a.Len(), b.Len(), a.IsNil(), b.IsNil())
			return
		}
		for i := range a.Len() {
			diffWhere(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i), depth+1)
		}
	case reflect.Map:
		if a.Len() != b.Len() || a.IsNil() != b.IsNil() {
			fmt.Println(path, "map", a.Len(), b.Len(), a.IsNil(), b.IsNil())
		}
	default:
		if !a.Equal(b) {
			fmt.Println(path, a, b)
		}
	}
}
