package keep

import (
	"slices"
	"strings"

	"agremens/game/class"
	"agremens/realize/sorting"
)

// Students is the teacher's class on a device: a text for each student, so that
// what is done with one writes no more than hers, and two windows that add
// students at the same instant lose none. The store is asked before each
// change: another window may have changed it.
type Students struct {
	store Store
	// read are the texts as they were read or kept last, with what they said.
	read map[string]known
	gone string // the same of who was erased
	who  []class.Gone
}

type known struct {
	text    string
	student *class.Student
}

// OpenStudents returns the class in a store. Reports that an earlier version
// kept by themselves are taken into it; today is the day, since 1970.
func OpenStudents(s Store, today int) *Students {
	k := &Students{store: s, read: map[string]known{}}
	if _, ok, _ := s.Load(namesKey); ok {
		_ = s.Forget(namesKey) // there was a list of names
	}
	if old, ok, _ := s.Load(ReportsKey); ok {
		err := k.Change(func(c *class.Class) {
			all := strings.Fields(old)
			for i := range all {
				c.Take("", all[len(all)-1-i], today) // the newest stood first
			}
		})
		if err == nil {
			_ = s.Forget(ReportsKey)
		}
	}
	return k
}

// Class returns the class as it is kept now. What it holds must not be changed.
func (k *Students) Class() *class.Class {
	c := &class.Class{}
	keys := k.store.Keys(studentKey)
	sorting.Stable(keys, strings.Compare)
	there := map[string]bool{}
	for _, key := range keys {
		key = strings.TrimPrefix(key, studentKey)
		if s := k.student(key); s != nil {
			there[key] = true
			c.Students = append(c.Students, s)
		}
	}
	for key := range k.read {
		if !there[key] {
			delete(k.read, key)
		}
	}
	if text, _, _ := k.store.Load(goneKey); text != k.gone {
		k.gone, k.who = text, nil
		if gone, _, err := class.Decode(text); err == nil {
			k.who = gone.Gone
		}
	}
	c.Gone = k.who
	return c
}

// student reads one, nil where nothing is kept under the key. What cannot be
// read is put aside.
func (k *Students) student(key string) *class.Student {
	text, ok, err := k.store.Load(studentKey + key)
	if !ok || err != nil {
		return nil
	}
	if was, ok := k.read[key]; ok && was.text == text {
		return was.student
	}
	c, damaged, err := class.Decode(text)
	if err != nil || damaged > 0 {
		_ = k.store.Save(damagedStudentKey+key, text)
	}
	if err != nil || len(c.Students) != 1 || c.Students[0].Key() != key {
		return nil
	}
	k.read[key] = known{text, c.Students[0]}
	return c.Students[0]
}

// Change changes the class as it is kept now and keeps it. Where there is no
// room for all of it, nothing is changed and the error says so.
func (k *Students) Change(change func(*class.Class)) error {
	stored := k.Class()
	now := &class.Class{Gone: slices.Clone(stored.Gone)}
	for _, s := range stored.Students {
		now.Students = append(now.Students, k.copied(s.Key()))
	}
	change(now)
	return k.keep(now)
}

// ChangeOne is Change of one student alone, found by name; nothing happens
// where there is none.
func (k *Students) ChangeOne(name string, change func(*class.Student)) error {
	s := k.Class().Find(name)
	if s == nil {
		return nil
	}
	s = k.copied(s.Key())
	change(s)
	return k.save(s.Key(), class.Encode(s))
}

// copied returns a student of one's own: what fails must leave no trace.
func (k *Students) copied(key string) *class.Student {
	c, _, _ := class.Decode(k.read[key].text)
	return c.Students[0]
}

func (k *Students) save(key, text string) error {
	if err := k.store.Save(studentKey+key, text); err != nil {
		return err
	}
	delete(k.read, key)
	return nil
}

// keep writes what differs. What it has written it takes back where something
// does not fit.
func (k *Students) keep(now *class.Class) error {
	was := map[string]string{}
	for key, one := range k.read {
		was[key] = one.text
	}
	written := map[string]bool{}
	undo := func(err error) error {
		for key := range written {
			if text, ok := was[key]; ok {
				_ = k.save(key, text)
			} else {
				_ = k.store.Forget(studentKey + key)
				delete(k.read, key)
			}
		}
		return err
	}
	left := map[string]bool{}
	for _, s := range now.Students {
		key := s.Key()
		left[key] = true
		text := class.Encode(s)
		if was[key] == text {
			continue
		}
		if err := k.save(key, text); err != nil {
			return undo(err)
		}
		written[key] = true
	}
	for key := range was {
		if !left[key] {
			_ = k.store.Forget(studentKey + key)
			_ = k.store.Forget(damagedStudentKey + key)
			delete(k.read, key)
		}
	}
	if text := (&class.Class{Gone: now.Gone}).Encode(); len(now.Gone) > 0 && text != k.gone {
		return k.store.Save(goneKey, text) // there is room: more than this was forgotten
	}
	return nil
}
