//go:build unix

package main

import "syscall"

// processorSeconds is the processor time of this process so far, all threads together.
func processorSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic("speed: " + err.Error())
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}
