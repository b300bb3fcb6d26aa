//go:build faults

#include "textflag.h"

// func trap()
TEXT ·trap(SB), NOSPLIT, $0
	UNDEF
	RET
