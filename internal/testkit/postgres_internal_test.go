package testkit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTheNewestPostgreSQLIsTaken(t *testing.T) {
	assert.Equal(t, "/usr/lib/postgresql/15/bin/initdb", newest([]string{"/usr/lib/postgresql/15/bin/initdb", "/usr/lib/postgresql/9.6/bin/initdb"}))
	assert.Equal(t, "/usr/lib/postgresql/9.6/bin/initdb", newest([]string{"/usr/lib/postgresql/9.5/bin/initdb", "/usr/lib/postgresql/9.6/bin/initdb"}))
}
