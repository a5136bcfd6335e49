; Lamplighter with the strategy "calibrated": see strategies/calibrated.md.

        .setcpu "6502"

STRATEGY = 4                ; 1 same-frame-untested, 2 same-frame-tested, 3 fixed-delay, 4 calibrated

        .include "parts/game.s"
