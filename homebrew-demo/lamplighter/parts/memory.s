; The map of memory.
;
;   $0000-$00FF  ZEROPAGE  what is used often or must be quick
;   $0100-$01FF            stack
;   $0200-$02FF  OAM       sprites of the scene
;   $0300-$03FF  BSS       sprites of the flash box, sent instead of the scene's while a script runs
;   $0400-$07FF  BSS       ring of target places, script, picture queue, game
;   $8000-$FFFF  CODE, RODATA, VECTORS

        .segment "ZEROPAGE"
; The frame
mode:           .res 1      ; MODE_...
frameDone:      .res 1      ; counts frames until somebody waits for one
sceneMask:      .res 1      ; PPUMASK of the scene
queueReady:     .res 1      ; bit 7: the picture queue is complete and may be sent
port2:          .res 1      ; the light device's port as the latest NMI outside a script found it
trigger:        .res 1      ; trigger's contact in the frame before
buttons:        .res 1      ; pad: held
pressed:        .res 1      ; pad: newly pressed in this frame

; A script: see frame.s
scriptAt:       .res 1      ; picture of the script that the next NMI shows; stays at the last
frame:          .res 1      ; number of the picture whose NMI was last, $FF before the first
lastFrame:      .res 1      ; `leave` is set from this picture on
leave:          .res 1      ; not 0: `watch` has looked long enough
newFrame:       .res 1      ; set by every NMI of a script
watching:       .res 1      ; bit 7: X and Y are `watch`'s counter of poll slots
slotBase:       .res 1      ; what X is when the handler returns to `watch`
litAge:         .res 1      ; NMIs since light was last seen to go (strategies/edges.s), 15 = 15 or more

; Arithmetic: 24 bits, in sixteenths of a poll slot where it is time
sum:            .res 3
term:           .res 3
best:           .res 3
factor:         .res 2
digits:         .res 4      ; decimal digits for the screen

; Pointers and counters of the main program
pointer:        .res 2
index:          .res 1
count:          .res 1
row:            .res 1
column:         .res 1
temp:           .res 1
temp2:          .res 1
spriteAt:       .res 1      ; next free sprite of the scene
random:         .res 2
shotWait:       .res 1      ; frames until the next shot is allowed
ringAt:         .res 1      ; the newest place of the ring
shotFrames:     .res 1      ; frames that the latest shot took

        .segment "OAM"
sprites:        .res 256

        .segment "BSS"
flash:          .res 256    ; sprites of the flash box; must begin a page
        .assert <flash = 0, error, "the flash sprites must begin a page"

ringX:          .res RING_LENGTH * TARGETS
ringY:          .res RING_LENGTH * TARGETS  ; 0: there was no such target
script:         .res SCRIPT_LENGTH
boxTop:         .res SHOWS  ; Y of the box sprites by what is shown; HIDDEN where there is no box
boxLeft:        .res SHOWS

; What the bench asks for. A target is TARGET_SIZE dots wide and high.
targetX:        .res TARGETS            ; left edge in dots
targetY:        .res TARGETS            ; top edge in scanlines
targetLive:     .res TARGETS            ; 1: it can be hit
verdict:        .res 1                  ; written once a shot: 0 = none, 1..3 = target 0..2
boxX:           .res TARGETS            ; left edge of the latest shot's boxes
boxY:           .res TARGETS            ; top edge; HIDDEN + 1: target had no box in this shot
calibration:    .res 1                  ; CALIBRATION_...
delayUnits:     .res 2                  ; the delay found, in units of 8 scanlines

; The clock row of this console's timing, copied from clock.s
timing:         .res 1                  ; 0 = 60 Hz, 1 = 50 Hz, 2 = 50 Hz clone
clock:
framePeriod:    .res 2      ; one frame, sixteenths of a slot
pictureTop:     .res 2      ; NMI dot to the top of the picture, sixteenths of a slot
lineTime:       .res 1      ; one scanline, sixteenths of a slot
unitTime:       .res 3      ; 8 scanlines, 1/4096 of a slot
millisecond:    .res 2      ; sixteenths of a slot
longestSmear:   .res 3      ; 35 ms, sixteenths of a slot
frameSlots:     .res 2      ; one frame, whole slots
frameLines:     .res 2      ; scanlines of a frame
second:         .res 1      ; frames in a second
shotPace:       .res 1      ; frames from shot to shot
repeatFrames:   .res 1      ; frames from the first calibration pulse to the second
darkFrames:     .res 1      ; frames in 1.2 s
clock_end:
ageLow:         .res SCRIPT_LENGTH      ; 0 to 15 frames in slots
ageHigh:        .res SCRIPT_LENGTH

QUEUE_LENGTH = 60
queue:          .res QUEUE_LENGTH + 1   ; runs of picture bytes: address high, low, count, bytes; 0 ends
queueAt:        .res 1

; The game
score:          .res DIGITS ; decimal digits, lowest first
bestScore:      .res DIGITS
oil:            .res 2      ; low byte: fraction
street:         .res 1      ; 0 for the first
lampX:          .res TARGETS
lampY:          .res TARGETS
placeState:     .res TARGETS ; PLACE_...
placeTimer:     .res TARGETS ; in pairs of frames
mothX:          .res TARGETS
mothY:          .res TARGETS
mothAngle:      .res TARGETS ; 64 steps make a circle
mothPart:       .res TARGETS ; fraction of a step
mothSide:       .res TARGETS ; 1 = it comes from the right and circles the other way
sparkX:         .res TARGETS
sparkY:         .res TARGETS
sparkTimer:     .res TARGETS ; frames that a spark is still to be seen
clockTick:      .res 1      ; counts frames of play
oilDrain:       .res 1      ; oil in a frame, in 1/256
mothSpeed:      .res 1      ; steps in a frame, in 1/256
mothDelay:      .res 1      ; pairs of frames until a moth comes to a lamp
mothPatience:   .res 1      ; pairs of frames until it has beaten the lamp out
mothsToCome:    .res 1      ; moths that this street still has to face
safeTimer:      .res 1      ; frames for which all lamps have burnt in peace
movesTargets:   .res 1      ; practice: 1 = moths, 0 = lamps
afterwards:     .res 1      ; where the calibration screen goes on: SCREEN_...
refusalValue:   .res 6      ; two times for the screen, sixteenths of a slot
