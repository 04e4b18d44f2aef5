package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	cdx "github.com/CycloneDX/cyclonedx-go"
)

// bill writes what the program is made of: its modules, their versions, hashes and licences, as CycloneDX 1.6 (ECMA-424). Names are package URLs
// (purl-spec, type golang). The same release has the same bill, serial number and all.
func (e *edition) bill() error {
	sums, err := os.ReadFile(filepath.Join(e.root, "go.sum"))
	if err != nil {
		return err
	}
	serial := sha256.Sum256([]byte("polewright " + e.version + " " + e.commit))
	serial[6], serial[8] = serial[6]&0x0f|0x80, serial[8]&0x3f|0x80 // version 8 of RFC 9562: of one's own making
	own := "pkg:golang/polewright@" + e.version
	b := cdx.NewBOM()
	b.SerialNumber = fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", serial[:4], serial[4:6], serial[6:8], serial[8:10], serial[10:16])
	b.Metadata = &cdx.Metadata{
		Timestamp: e.at.Format(time.RFC3339),
		Component: &cdx.Component{
			BOMRef: own, Type: cdx.ComponentTypeApplication, Name: "polewright", Version: e.version, PackageURL: own,
			Licenses:   &cdx.Licenses{{License: &cdx.License{ID: "Apache-2.0"}}},
			Properties: &[]cdx.Property{{Name: "commit", Value: e.commit}},
		},
	}
	var components []cdx.Component
	var refs []string
	for _, m := range e.modules {
		ref := "pkg:golang/" + m.path + "@" + m.version
		c := cdx.Component{BOMRef: ref, Type: cdx.ComponentTypeLibrary, Name: m.path, Version: m.version, PackageURL: ref, Scope: cdx.ScopeRequired}
		if ids := m.ids(); strings.Contains(ids, " AND ") {
			c.Licenses = &cdx.Licenses{{Expression: ids}}
		} else {
			c.Licenses = &cdx.Licenses{{License: &cdx.License{ID: ids}}}
		}
		// The hash of go.sum is the SHA-256 of the list of the files' SHA-256 (golang.org/x/mod/sumdb/dirhash).
		for line := range strings.Lines(string(sums)) {
			f := strings.Fields(line)
			if len(f) != 3 || f[0] != m.path || f[1] != m.version {
				continue
			}
			hash, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(f[2], "h1:"))
			if err != nil {
				return fmt.Errorf("go.sum: %s: %w", strings.TrimSpace(line), err)
			}
			c.Hashes = &[]cdx.Hash{{Algorithm: cdx.HashAlgoSHA256, Value: hex.EncodeToString(hash)}}
		}
		if c.Hashes == nil && m.path != "std" {
			return fmt.Errorf("go.sum has no hash of %s %s", m.path, m.version)
		}
		components, refs = append(components, c), append(refs, ref)
	}
	b.Components = &components
	b.Dependencies = &[]cdx.Dependency{{Ref: own, Dependencies: &refs}}
	var out bytes.Buffer
	if err := cdx.NewBOMEncoder(&out, cdx.BOMFileFormatJSON).SetPretty(true).EncodeVersion(b, cdx.SpecVersion1_6); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(e.folder, "polewright_"+e.version+".cdx.json"), out.Bytes(), 0o666)
}
