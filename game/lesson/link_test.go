package lesson_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/lesson"
	"agremens/realize/codec/packet"
)

func TestHome(t *testing.T) {
	for _, tc := range []struct {
		name, page, set, want string
		local                 bool
	}{
		{"the page's own", "https://music.example.org/", "", "https://music.example.org/", false},
		{"a folder", "https://example.org/practice/", "", "https://example.org/practice/", false},
		{"this computer", "http://127.0.0.1:8017/", "", "http://127.0.0.1:8017/", true},
		{"this computer, safe", "https://localhost/", "", "https://localhost/", true},
		{"without safe transport", "http://example.org/", "", "http://example.org/", true},
		{"set once", "http://127.0.0.1:8017/", "example.org/practice/", "https://example.org/practice/", false},
		{"set with index and query", "http://127.0.0.1:8017/", " https://example.org/p/index.html?x=1#y ", "https://example.org/p/", false},
		{"set to this computer", "http://127.0.0.1:8017/", "http://localhost:8017/", "http://127.0.0.1:8017/", true},
		{"set to nonsense", "https://example.org/", "javascript:alert(1)", "https://example.org/", false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			home, local := lesson.Home(tc.page, tc.set)
			assert.Equal(t, tc.want, home)
			assert.Equal(t, tc.local, local)
		})
	}
}

func TestPackets(t *testing.T) {
	link := lesson.Link("https://example.org/", packet.ReportKind, "cgABC")
	tasks, reports := lesson.Packets("Dear teacher, here it is: <" + link + ">.\nAnd " + string(lesson.File(packet.TaskKind, "dAEF")) + " #report=cg2 report=cg3 task= #report=")
	assert.Equal(t, []string{"dAEF"}, tasks)
	assert.Equal(t, []string{"cgABC", "cg2", "cg3"}, reports)
}

func TestFileName(t *testing.T) {
	assert.Equal(t, "task-An-Air-for-Trills.agremens", lesson.FileName("task", "An Air, for Trills"))
	assert.Equal(t, "report-Zoë-etc-passwd.agremens", lesson.FileName("report", "Zoë", "../etc/passwd"))
}
