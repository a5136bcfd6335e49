; The NMI handler: what is done once a frame, when the raster unit has sent the last scanline.
;
;   in play      the trigger is read, sprites and picture queue are sent
;   in a script  `show`: one step, in the same number of cycles whatever it shows, so that `watch` can count the time
;
; A script names what the next pictures show: black, one flash box, white, the scene. Black is the background switched off
; (its colour 0 is black); a box is nine white sprites on it. Sprites stay on, so the raster unit keeps its usual rhythm.

SHOW_CYCLES    = 668            ; `show` to `shown`; one more when the sprite DMA has to wait a cycle
AFTER_CYCLES   = 69             ; from there to the end of the handler
HANDLER_CYCLES = 7 + 19 + SHOW_CYCLES + AFTER_CYCLES    ; with the interrupt itself and what stands before `show`
SLOT_BASE      = (HANDLER_CYCLES + SLOT / 2) / SLOT     ; poll slots from the NMI dot to the return from the handler
LONGEST_GAP    = HANDLER_CYCLES + 8 * SLOT              ; cycles between two reads: a handler, a round, the work of an edge

; Tables first, so that no index crosses a page. By what is shown: black, the boxes, white, the scene.
show_page:      .byte >flash, >flash, >flash, >flash, >flash, >sprites
show_backdrop:  .byte BLACK, BLACK, BLACK, BLACK, WHITE, BLACK
show_mask:      .byte %00010100, %00010100, %00010100, %00010100, %00010100, %00011110
next_step:      .byte 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 15

nmi:    pha                     ; 3
        txa                     ; 2
        pha                     ; 3
        tya                     ; 2
        pha                     ; 3
        bit mode                ; 3
        bmi show                ; 3
        bvc quiet_frame
        jmp play_frame

quiet_frame:
        inc frameDone
        pla
        tay
        pla
        tax
        pla
irq:    rti

; SHOW_CYCLES to SHOW_CYCLES + 1 cycles from here
show:   ldx scriptAt
        ldy script,x            ; what this picture shows
        lda boxTop,y            ; the box: three rows of three sprites
        sta flash + 0
        sta flash + 4
        sta flash + 8
        clc
        adc #8
        sta flash + 12
        sta flash + 16
        sta flash + 20
        adc #8
        sta flash + 24
        sta flash + 28
        sta flash + 32
        lda boxLeft,y
        sta flash + 3
        sta flash + 15
        sta flash + 27
        clc
        adc #8
        sta flash + 7
        sta flash + 19
        sta flash + 31
        adc #8
        sta flash + 11
        sta flash + 23
        sta flash + 35
        lda #0
        sta OAMADDR
        lda show_page,y
        sta OAMDMA
        bit PPUSTATUS           ; first write next
        lda #$3F
        sta PPUADDR
        lda #$00
        sta PPUADDR
        lda show_backdrop,y
        sta PPUDATA
        lda #0                  ; scroll to the top left
        sta PPUADDR
        sta PPUADDR
        lda show_mask,y
        sta PPUMASK
; to here

; exactly AFTER_CYCLES cycles from here
shown:  lda next_step,x
        sta scriptAt
        inc frame
        inc newFrame
        lda frame               ; leave = has the last frame of the script begun?
        cmp lastFrame
        lda #0
        rol a
        sta leave
        ldx litAge              ; the latest light is one frame older
        lda next_step,x
        sta litAge
        bit watching
        bmi @count
        nop
        pla
        tay
        pla
        tax
        pla
        rti
@count: pla                     ; `watch` goes on with the slots that have passed since the NMI dot
        pla
        ldx slotBase
        ldy #0
        pla
        rti
; to here

; In play: not constant, but short of the 2200 cycles in which the picture's memory can be written.
play_frame:
        lda GUN
        sta port2
        lda #0
        sta OAMADDR
        lda #>sprites
        sta OAMDMA
        bit PPUSTATUS
        bit queueReady
        bpl @sent
        ldx #0
@run:   lda queue,x
        beq @empty
        sta PPUADDR
        lda queue + 1,x
        sta PPUADDR
        ldy queue + 2,x
@byte:  lda queue + 3,x
        sta PPUDATA
        inx
        dey
        bne @byte
        inx
        inx
        inx
        bne @run
@empty: sta queueAt             ; A = 0
        sta queue
        sta queueReady
@sent:  lda #0
        sta PPUADDR
        sta PPUADDR
        lda sceneMask
        sta PPUMASK
        jmp quiet_frame

; A script of A's pictures only, and no box.
fill_script:
        ldx #SCRIPT_LENGTH - 1
@fill:  sta script,x
        dex
        bpl @fill
        lda #HIDDEN
        ldx #SHOWS - 1
@box:   sta boxTop,x
        dex
        bpl @box
        rts

; From the next NMI on the script owns the picture. Call it well before that NMI.
start_script:
        lda #0
        sta scriptAt
        sta leave
        sta newFrame
        sta watching
        lda #SCRIPT_LENGTH - 1
        sta litAge
        lda #SLOT_BASE
        sta slotBase
        lda #$FF
        sta frame
        lda #MODE_SCRIPT
        sta mode
        rts

; The scene comes back with the next NMI.
end_script:
        lda #MODE_PLAY
        sta mode
        rts
