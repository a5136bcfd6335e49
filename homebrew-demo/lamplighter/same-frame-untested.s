; Lamplighter with the strategy "same-frame-untested": see strategies/same-frame-untested.md.

        .setcpu "6502"

STRATEGY = 1                ; 1 same-frame-untested, 2 same-frame-tested, 3 fixed-delay, 4 calibrated

        .include "parts/game.s"
