package packet_test

import (
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/realize/codec/packet"
)

// bomb is a small packet that would unpack to more than is read.
func bomb(t *testing.T) string {
	letters := packet.Pack(packet.TaskKind, strings.Repeat("score aaaaaaa\n", 1<<18))
	require.Less(t, len(letters), packet.MaxLetters, "the bomb is small")
	return letters
}

// plain is a whole packet whose rest is no compressed text.
func plain(t *testing.T) string {
	raw := append([]byte{'t', 1, 0, 0, 0, 0}, "not compressed at all"...)
	binary.BigEndian.PutUint32(raw[2:], crc32.ChecksumIEEE(raw[6:]))
	return base64.RawURLEncoding.EncodeToString(raw)
}
