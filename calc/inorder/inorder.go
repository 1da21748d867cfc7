// Package inorder puts short lists in order. The library's stable sort brings four large
// functions for each type of list, and a browser translates each of them as it is first
// called; what is put in order here holds a few dozen things.
package inorder

import "cmp"

// By puts a list in an order; equals stay as they were.
func By[T any](list []T, compare func(a, b T) int) {
	for i := 1; i < len(list); i++ {
		x, low, high := list[i], 0, i
		for low < high { // the first that comes after x
			if middle := (low + high) / 2; compare(x, list[middle]) < 0 {
				high = middle
			} else {
				low = middle + 1
			}
		}
		if low < i {
			copy(list[low+1:i+1], list[low:i])
			list[low] = x
		}
	}
}

// Up puts numbers or texts in order, the least first.
func Up[T cmp.Ordered](list []T) { By(list, cmp.Compare[T]) }
