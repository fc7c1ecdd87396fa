//go:build unix

package store_test

import (
	"os/exec"
	"syscall"
)

// asNobody has a program run as a user that owns nothing.
func asNobody(c *exec.Cmd) {
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
}
