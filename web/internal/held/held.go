// Package held keeps received files between two requests: a photograph while the
// form it came with is put right, a report while its columns are looked at. It
// holds a bounded number of bytes for a bounded time; what must go goes oldest
// first. Nothing here is in a book yet.
package held

import (
	"container/list"
	"crypto/rand"
	"encoding/hex"
	"sync"
	"time"

	"wellwright/book"
)

// The bounds: judgement. Four of the largest requests, and an afternoon.
const (
	MaxBytes = 128 << 20
	MaxFiles = 400
	Keep     = 3 * time.Hour
)

// Keeper holds files. It is safe for concurrent use.
type Keeper struct {
	now func() time.Time

	mu    sync.Mutex
	byKey map[string]*list.Element
	order *list.List // of kept, the newest in front
	bytes int64
}

type kept struct {
	key  string
	at   time.Time
	file book.File
}

// New makes a keeper with a clock.
func New(now func() time.Time) *Keeper {
	return &Keeper{now: now, byKey: map[string]*list.Element{}, order: list.New()}
}

// Put holds a file and returns the key to it, which nobody can guess.
func (k *Keeper) Put(f book.File) string {
	secret := make([]byte, 16)
	_, _ = rand.Read(secret) // never errors: crypto/rand ends the program instead
	key := hex.EncodeToString(secret)
	k.mu.Lock()
	defer k.mu.Unlock()
	k.byKey[key] = k.order.PushFront(kept{key, k.now(), f})
	k.bytes += int64(len(f.Content))
	k.sweep()
	return key
}

// Get returns a file that is held still.
func (k *Keeper) Get(key string) (book.File, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.sweep()
	e, ok := k.byKey[key]
	if !ok {
		return book.File{}, false
	}
	return e.Value.(kept).file, true
}

// Drop lets go of a file.
func (k *Keeper) Drop(key string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if e, ok := k.byKey[key]; ok {
		k.remove(e)
	}
}

// sweep lets go of what is too old or too much.
func (k *Keeper) sweep() {
	for e := k.order.Back(); e != nil; e = k.order.Back() {
		fits := k.bytes <= MaxBytes && k.order.Len() <= MaxFiles
		if fits && k.now().Sub(e.Value.(kept).at) < Keep {
			return
		}
		k.remove(e)
	}
}

func (k *Keeper) remove(e *list.Element) {
	x := e.Value.(kept)
	k.order.Remove(e)
	delete(k.byKey, x.key)
	k.bytes -= int64(len(x.file.Content))
}
