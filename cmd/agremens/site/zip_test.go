package site_test

import (
	"testing"

	"agremens/cmd/agremens/site"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestASiteComesOutOfItsZip(t *testing.T) {
	s, err := site.Pack(page(), site.Options{HashNames: true, Quality: site.Quick})
	require.NoError(t, err)
	data, err := s.Zip()
	require.NoError(t, err)
	again, err := site.FromZip(data)
	require.NoError(t, err)
	assert.Equal(t, s.Files(), again.Files())
}

func TestNoSiteInAZip(t *testing.T) {
	_, err := site.FromZip([]byte("PK"))
	assert.Error(t, err)
	_, err = site.FromZip(make([]byte, 100))
	assert.Error(t, err)
}
