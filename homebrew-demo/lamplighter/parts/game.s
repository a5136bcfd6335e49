; Lamplighter: everything in the order in which it lies in memory. The one thing that the main file chooses is STRATEGY.
;
; At dusk somebody has to light the street's lamps. A spark of the wand lights one; moths love a lamp and beat it out
; again with their wings unless a spark drives them away. The wand's oil runs out little by little, faster when a spark
; goes astray.
;
;   interrupt   parts/frame.s        once a frame: sprites, picture changes, or one step of a shot
;   main        parts/start.s        power-on, and which of the three timings the console has
;               parts/title.s        title, street.s, practice.s, calibration-screen.s: one screen each
;               parts/shot.s         the pull of the trigger: when one is allowed, where the targets were, what was hit
;               strategies/*.s       how a shot flashes, looks and decides: one of them, chosen by STRATEGY

IS_CALIBRATED = (STRATEGY = 4)

        .include "hardware.s"
        .include "memory.s"
        .include "macros.s"

        .segment "HEADER"
        .byte $4E, $45, $53, $1A
        .byte 2, 1                      ; 32 KiB program, 8 KiB patterns
        .byte $00, $08                  ; circuit 0, NES 2.0 header
        .byte 0, 0, 0, 0                ; no more sizes, no RAM
        .byte 2, 0, 0, 8                ; runs on every timing; light device on $4017

        .segment "CODE"
; What must keep its number of cycles comes first, so that no later change moves it across a page.
        .include "frame.s"
        .if STRATEGY = 1
        .include "../strategies/same-frame-untested.s"
        .elseif STRATEGY = 2
        .include "../strategies/same-frame-tested.s"
        .elseif STRATEGY = 3
        .include "../strategies/fixed-delay.s"
        .else
        .include "../strategies/calibrated.s"
        .endif
        .include "arithmetic.s"
        .include "shot.s"
        .include "start.s"
        .include "clock.s"
        .include "pad.s"
        .include "queue.s"
        .include "picture.s"
        .include "sprites.s"
        .include "moths.s"
        .include "title.s"
        .include "practice.s"
        .include "street.s"
        .if IS_CALIBRATED
        .include "calibration-screen.s"
        .endif

        .segment "RODATA"
        .include "layouts.s"

        .segment "PATTERNS"
        .include "font.s"
        .include "tiles.s"

        .segment "VECTORS"
        .addr nmi, reset, irq
