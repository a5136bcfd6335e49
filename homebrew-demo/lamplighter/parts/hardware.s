; Registers of the console and numbers that never change.

PPUCTRL   = $2000
PPUMASK   = $2001
PPUSTATUS = $2002
OAMADDR   = $2003
PPUADDR   = $2006
PPUDATA   = $2007
OAMDMA    = $4014
PAD       = $4016           ; port 1: the pad, written: strobe
APUFRAME  = $4017           ; written: sound frame counter
GUN       = $4017           ; read: port 2: bit 3 = 0 light seen, bit 4 = 1 trigger's contact closed

LIGHT     = %00001000
TRIGGER   = %00010000

BUTTON_A      = %10000000   ; as read_pad leaves them: the first button that the pad sends is the highest bit
BUTTON_B      = %01000000
BUTTON_SELECT = %00100000
BUTTON_START  = %00010000

BLACK     = $0F
WHITE     = $20

TARGETS     = 3             ; at most so many at once
TARGET_SIZE = 16            ; what the player sees, in dots and scanlines
MARGIN      = 4             ; a flash box is larger by this on every side
HIDDEN      = $EF           ; sprites with this Y or more are not shown

; What a picture of a shot or a calibration shows: the bytes of a script (strategies) and the index of frame.s's tables.
SHOW_BLACK  = 0
SHOW_BOX    = 1             ; 1, 2, 3: the flash box of target 0, 1, 2
SHOW_WHITE  = 4
SHOW_SCENE  = 5
SHOWS       = 6

; `mode`: who owns the picture in the NMI handler.
MODE_QUIET  = %00000000     ; nobody: the handler only says that a frame has begun
MODE_PLAY   = %01000000     ; sprites and queue
MODE_SCRIPT = %10000000     ; one step of the script a frame, always in the same number of cycles

SCRIPT_LENGTH = 16          ; pictures that a script can name; the last one stays
RING_LENGTH   = 40          ; pictures whose targets are remembered

DIGITS      = 6             ; of a score
SCREEN_TITLE    = 0
SCREEN_STREET   = 1
SCREEN_PRACTICE = 2
