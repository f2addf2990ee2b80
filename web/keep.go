package web

import (
	"container/list"
	"sync"
)

// shelf keeps the last things worked out, each under its key. Two who ask for one
// thing at a time work it out once. It is safe for concurrent use.
type shelf[K comparable, V any] struct {
	most int

	mu    sync.Mutex
	byKey map[K]*list.Element
	order list.List // of *shelved, the last asked for in front
}

// shelved is one thing, ready or on its way.
type shelved[K comparable, V any] struct {
	key  K
	once sync.Once
	made V
	err  error
}

// newShelf makes a shelf of so many places.
func newShelf[K comparable, V any](most int) *shelf[K, V] {
	return &shelf[K, V]{most: most, byKey: map[K]*list.Element{}}
}

// of returns what is kept under a key, or makes it. What could not be made is not
// kept.
func (s *shelf[K, V]) of(key K, make func() (V, error)) (V, error) {
	x := s.place(key)
	x.once.Do(func() { x.made, x.err = make() })
	if x.err != nil {
		s.drop(key, x)
	}
	return x.made, x.err
}

// peek returns what was put under a key.
func (s *shelf[K, V]) peek(key K) (v V, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	e, ok := s.byKey[key]
	if !ok {
		return v, false
	}
	s.order.MoveToFront(e)
	return e.Value.(*shelved[K, V]).made, true
}

// put keeps what was made elsewhere. A shelf that is peeked into is only put to.
func (s *shelf[K, V]) put(key K, v V) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.placed(key).made = v
}

// place finds the place of a key, or makes room for it.
func (s *shelf[K, V]) place(key K) *shelved[K, V] {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.placed(key)
}

// placed is place for whoever holds the lock.
func (s *shelf[K, V]) placed(key K) *shelved[K, V] {
	if e, ok := s.byKey[key]; ok {
		s.order.MoveToFront(e)
		return e.Value.(*shelved[K, V])
	}
	x := &shelved[K, V]{key: key}
	s.byKey[key] = s.order.PushFront(x)
	for s.order.Len() > s.most {
		last := s.order.Back()
		s.order.Remove(last)
		delete(s.byKey, last.Value.(*shelved[K, V]).key)
	}
	return x
}

// drop takes a thing away, unless another stands in its place by now.
func (s *shelf[K, V]) drop(key K, x *shelved[K, V]) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if e, ok := s.byKey[key]; ok && e.Value.(*shelved[K, V]) == x {
		s.order.Remove(e)
		delete(s.byKey, key)
	}
}
