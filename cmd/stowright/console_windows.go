package main

import (
	"unsafe"

	"golang.org/x/sys/windows"
)

// leaveConsole lets go of a console that nobody but this program has: Windows made it for a
// window that was opened by a double click. One that a command was typed in stays.
func leaveConsole() {
	kernel := windows.NewLazySystemDLL("kernel32.dll")
	list, free := kernel.NewProc("GetConsoleProcessList"), kernel.NewProc("FreeConsole")
	if list.Find() != nil || free.Find() != nil {
		return
	}
	var processes [2]uint32
	if n, _, _ := list.Call(uintptr(unsafe.Pointer(&processes[0])), uintptr(len(processes))); n == 1 {
		_, _, _ = free.Call() // where it fails, a console stays in sight
	}
}
