//go:build !linux

package main

// adviseLarge says that there is nothing to tell the system.
func adviseLarge([]byte) bool { return false }
