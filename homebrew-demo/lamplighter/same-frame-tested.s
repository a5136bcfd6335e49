; Lamplighter with the strategy "same-frame-tested": see strategies/same-frame-tested.md.

        .setcpu "6502"

STRATEGY = 2                ; 1 same-frame-untested, 2 same-frame-tested, 3 fixed-delay, 4 calibrated

        .include "parts/game.s"
