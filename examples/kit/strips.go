package main

import (
	"github.com/hangarflat/hangarflat/bend/striplog"
	"github.com/hangarflat/hangarflat/examples/internal/command"
	"github.com/hangarflat/hangarflat/flat/family"
)

// stripLogs are the logs of test strips that the members of a template name, each read once.
type stripLogs map[string]stripLog

type stripLog struct {
	striplog.Log
	err error
}

// calibrate gives a member what its log says and tells the log's hash, since another log makes
// other blanks; empty for a member of another rule.
func (l stripLogs) calibrate(template string, m *family.Member) (hash string, err error) {
	file, asked := m.Strips()
	if !asked {
		return "", nil
	}
	log, known := l[file]
	if !known {
		log.Log, log.err = command.Strips(template, file)
		l[file] = log
	}
	if log.err != nil {
		return "", log.err
	}
	m.Calibrate(log.Log)
	return log.SHA256, nil
}
