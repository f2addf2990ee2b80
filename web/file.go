package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"net/http"
	"strings"

	"wellwright/asset"
)

//go:embed style script
var own embed.FS

// version is the beginning of the hash of all files that a page names: it names
// them with it, so that a browser may keep a file for ever and still get the next.
var version = func() string {
	h := sha256.New()
	for _, files := range []fs.FS{own, asset.Files()} {
		err := fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			text, err := fs.ReadFile(files, path)
			h.Write([]byte(path))
			h.Write(text)
			return err
		})
		if err != nil {
			panic(err) // embedded
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
}()

// ownFiles serves our styles and scripts.
func ownFiles() http.Handler { return http.StripPrefix("/own/", forever(own)) }

// fetchedFiles serves fonts and the scripts of others.
func fetchedFiles() http.Handler { return http.StripPrefix("/fetched/", forever(asset.Files())) }

// forever serves files that never change under their name, and no folder.
func forever(files fs.FS) http.Handler {
	serve := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, "/") || r.URL.Path == "" {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		serve.ServeHTTP(w, r)
	})
}
