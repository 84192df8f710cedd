package main

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// sweep takes away the files of earlier runs that this kit no longer holds, lest they be
// cut. Only what the journal knows goes, byte for byte: what was changed since may be
// somebody's work, so it stays and is named.
func (k kit) sweep(sum *summary, past *journal) error {
	changed := map[string]bool{}
	err := past.each(func(e entry, _ span) error {
		for _, s := range e.Files {
			// A journal that was meddled with leads nowhere out of the folder.
			if filepath.Base(s.Name) != s.Name || k.holds(sum.listed, e.Name, s.Name) {
				continue
			}
			now, err := k.sum(s.Name)
			if errors.Is(err, fs.ErrNotExist) {
				continue
			}
			// The line of a later run may know it.
			changed[s.Name] = err != nil || now != s.Sum
			if changed[s.Name] {
				continue
			}
			if err := os.Remove(k.path(s.Name)); err != nil {
				return err
			}
			sum.removed++
		}
		return nil
	})
	maps.DeleteFunc(changed, func(_ string, is bool) bool { return !is })
	sum.changed = slices.Sorted(maps.Keys(changed))
	return err
}

// holds reports whether this run's lists speak of a file made of a part; the zip is made
// of none.
func (k kit) holds(listed map[uint64]struct{}, part, name string) bool {
	if part == "" {
		return k.zip
	}
	_, of := listed[hashOfName(part)]
	return of && slices.ContainsFunc(k.files, func(f file) bool { return part+f.suffix == name })
}
