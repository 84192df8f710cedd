package main

import (
	"archive/zip"
	"encoding/csv"
	"errors"
	"hash/crc32"
	"io"
	"os"
)

// pack puts the kit into one zip file: the lists, the sheets, and the files of the
// parts that the cut list names, in its order. Nothing in it tells the time, so that
// the same kit gives the same bytes.
func (k kit) pack(past *journal) error {
	d, err := k.newDraft(zipName)
	if err != nil {
		return err
	}
	sum := crc32.NewIEEE()
	z := zip.NewWriter(io.MultiWriter(d, sum))
	if err = k.packAll(z); err == nil {
		err = z.Close()
	}
	if err = errors.Join(err, d.finish()); err == nil {
		err = past.add(entry{Files: []stamp{{zipName, sum.Sum32()}}})
	}
	if err == nil {
		err = d.place()
	}
	if err != nil {
		d.drop()
	}
	return err
}

func (k kit) packAll(z *zip.Writer) error {
	names := []string{indexName, cutListName, materialName, faultsName}
	sheets, err := k.standingSheets()
	if err != nil {
		return err
	}
	for _, name := range sheets {
		names = append(names, sheetsName+"/"+name)
	}
	for _, name := range names {
		if err := k.packFile(z, name); err != nil {
			return err
		}
	}
	return k.packParts(z)
}

func (k kit) packParts(z *zip.Writer) error {
	list, err := os.Open(k.path(cutListName))
	if err != nil {
		return err
	}
	defer list.Close()
	rows := csv.NewReader(list)
	if _, err := rows.Read(); err != nil {
		return err
	}
	for {
		row, err := rows.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		for _, f := range k.files {
			if err := k.packFile(z, row[0]+f.suffix); err != nil {
				return err
			}
		}
	}
}

func (k kit) packFile(z *zip.Writer, name string) error {
	from, err := os.Open(k.path(name))
	if err != nil {
		return err
	}
	defer from.Close()
	to, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	_, err = io.Copy(to, from)
	return err
}
