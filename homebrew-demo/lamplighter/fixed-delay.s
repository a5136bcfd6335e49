; Lamplighter with the strategy "fixed-delay": see strategies/fixed-delay.md.

        .setcpu "6502"

STRATEGY = 3                ; 1 same-frame-untested, 2 same-frame-tested, 3 fixed-delay, 4 calibrated

        .include "parts/game.s"
