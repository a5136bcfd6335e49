; Every operator beside every other: two binary operators without brackets, and a sign before and behind each.
        .segment "HEADER"
        .byte $4E, $45, $53, $1A, 2, 1, 0, 8
        .res 8
        .code
start:  rts
        .rodata
; *
        .dword (13 * 5 * 3) & $FFFFFF
        .dword (13 * 5 / 3) & $FFFFFF
        .dword (13 * 5 .mod 3) & $FFFFFF
        .dword (13 * 5 & 3) & $FFFFFF
        .dword (13 * 5 .bitand 3) & $FFFFFF
        .dword (13 * 5 ^ 3) & $FFFFFF
        .dword (13 * 5 .bitxor 3) & $FFFFFF
        .dword (13 * 5 << 3) & $FFFFFF
        .dword (13 * 5 .shl 3) & $FFFFFF
        .dword (13 * 5 >> 3) & $FFFFFF
        .dword (13 * 5 .shr 3) & $FFFFFF
        .dword (13 * 5 + 3) & $FFFFFF
        .dword (13 * 5 - 3) & $FFFFFF
        .dword (13 * 5 | 3) & $FFFFFF
        .dword (13 * 5 .bitor 3) & $FFFFFF
        .dword (13 * 5 = 3) & $FFFFFF
        .dword (13 * 5 <> 3) & $FFFFFF
        .dword (13 * 5 < 3) & $FFFFFF
        .dword (13 * 5 > 3) & $FFFFFF
        .dword (13 * 5 <= 3) & $FFFFFF
        .dword (13 * 5 >= 3) & $FFFFFF
        .dword (13 * 5 && 3) & $FFFFFF
        .dword (13 * 5 .and 3) & $FFFFFF
        .dword (13 * 5 .xor 3) & $FFFFFF
        .dword (13 * 5 || 3) & $FFFFFF
        .dword (13 * 5 .or 3) & $FFFFFF
; /
        .dword (13 / 5 * 3) & $FFFFFF
        .dword (13 / 5 / 3) & $FFFFFF
        .dword (13 / 5 .mod 3) & $FFFFFF
        .dword (13 / 5 & 3) & $FFFFFF
        .dword (13 / 5 .bitand 3) & $FFFFFF
        .dword (13 / 5 ^ 3) & $FFFFFF
        .dword (13 / 5 .bitxor 3) & $FFFFFF
        .dword (13 / 5 << 3) & $FFFFFF
        .dword (13 / 5 .shl 3) & $FFFFFF
        .dword (13 / 5 >> 3) & $FFFFFF
        .dword (13 / 5 .shr 3) & $FFFFFF
        .dword (13 / 5 + 3) & $FFFFFF
        .dword (13 / 5 - 3) & $FFFFFF
        .dword (13 / 5 | 3) & $FFFFFF
        .dword (13 / 5 .bitor 3) & $FFFFFF
        .dword (13 / 5 = 3) & $FFFFFF
        .dword (13 / 5 <> 3) & $FFFFFF
        .dword (13 / 5 < 3) & $FFFFFF
        .dword (13 / 5 > 3) & $FFFFFF
        .dword (13 / 5 <= 3) & $FFFFFF
        .dword (13 / 5 >= 3) & $FFFFFF
        .dword (13 / 5 && 3) & $FFFFFF
        .dword (13 / 5 .and 3) & $FFFFFF
        .dword (13 / 5 .xor 3) & $FFFFFF
        .dword (13 / 5 || 3) & $FFFFFF
        .dword (13 / 5 .or 3) & $FFFFFF
; .mod
        .dword (13 .mod 5 * 3) & $FFFFFF
        .dword (13 .mod 5 / 3) & $FFFFFF
        .dword (13 .mod 5 .mod 3) & $FFFFFF
        .dword (13 .mod 5 & 3) & $FFFFFF
        .dword (13 .mod 5 .bitand 3) & $FFFFFF
        .dword (13 .mod 5 ^ 3) & $FFFFFF
        .dword (13 .mod 5 .bitxor 3) & $FFFFFF
        .dword (13 .mod 5 << 3) & $FFFFFF
        .dword (13 .mod 5 .shl 3) & $FFFFFF
        .dword (13 .mod 5 >> 3) & $FFFFFF
        .dword (13 .mod 5 .shr 3) & $FFFFFF
        .dword (13 .mod 5 + 3) & $FFFFFF
        .dword (13 .mod 5 - 3) & $FFFFFF
        .dword (13 .mod 5 | 3) & $FFFFFF
        .dword (13 .mod 5 .bitor 3) & $FFFFFF
        .dword (13 .mod 5 = 3) & $FFFFFF
        .dword (13 .mod 5 <> 3) & $FFFFFF
        .dword (13 .mod 5 < 3) & $FFFFFF
        .dword (13 .mod 5 > 3) & $FFFFFF
        .dword (13 .mod 5 <= 3) & $FFFFFF
        .dword (13 .mod 5 >= 3) & $FFFFFF
        .dword (13 .mod 5 && 3) & $FFFFFF
        .dword (13 .mod 5 .and 3) & $FFFFFF
        .dword (13 .mod 5 .xor 3) & $FFFFFF
        .dword (13 .mod 5 || 3) & $FFFFFF
        .dword (13 .mod 5 .or 3) & $FFFFFF
; &
        .dword (13 & 5 * 3) & $FFFFFF
        .dword (13 & 5 / 3) & $FFFFFF
        .dword (13 & 5 .mod 3) & $FFFFFF
        .dword (13 & 5 & 3) & $FFFFFF
        .dword (13 & 5 .bitand 3) & $FFFFFF
        .dword (13 & 5 ^ 3) & $FFFFFF
        .dword (13 & 5 .bitxor 3) & $FFFFFF
        .dword (13 & 5 << 3) & $FFFFFF
        .dword (13 & 5 .shl 3) & $FFFFFF
        .dword (13 & 5 >> 3) & $FFFFFF
        .dword (13 & 5 .shr 3) & $FFFFFF
        .dword (13 & 5 + 3) & $FFFFFF
        .dword (13 & 5 - 3) & $FFFFFF
        .dword (13 & 5 | 3) & $FFFFFF
        .dword (13 & 5 .bitor 3) & $FFFFFF
        .dword (13 & 5 = 3) & $FFFFFF
        .dword (13 & 5 <> 3) & $FFFFFF
        .dword (13 & 5 < 3) & $FFFFFF
        .dword (13 & 5 > 3) & $FFFFFF
        .dword (13 & 5 <= 3) & $FFFFFF
        .dword (13 & 5 >= 3) & $FFFFFF
        .dword (13 & 5 && 3) & $FFFFFF
        .dword (13 & 5 .and 3) & $FFFFFF
        .dword (13 & 5 .xor 3) & $FFFFFF
        .dword (13 & 5 || 3) & $FFFFFF
        .dword (13 & 5 .or 3) & $FFFFFF
; .bitand
        .dword (13 .bitand 5 * 3) & $FFFFFF
        .dword (13 .bitand 5 / 3) & $FFFFFF
        .dword (13 .bitand 5 .mod 3) & $FFFFFF
        .dword (13 .bitand 5 & 3) & $FFFFFF
        .dword (13 .bitand 5 .bitand 3) & $FFFFFF
        .dword (13 .bitand 5 ^ 3) & $FFFFFF
        .dword (13 .bitand 5 .bitxor 3) & $FFFFFF
        .dword (13 .bitand 5 << 3) & $FFFFFF
        .dword (13 .bitand 5 .shl 3) & $FFFFFF
        .dword (13 .bitand 5 >> 3) & $FFFFFF
        .dword (13 .bitand 5 .shr 3) & $FFFFFF
        .dword (13 .bitand 5 + 3) & $FFFFFF
        .dword (13 .bitand 5 - 3) & $FFFFFF
        .dword (13 .bitand 5 | 3) & $FFFFFF
        .dword (13 .bitand 5 .bitor 3) & $FFFFFF
        .dword (13 .bitand 5 = 3) & $FFFFFF
        .dword (13 .bitand 5 <> 3) & $FFFFFF
        .dword (13 .bitand 5 < 3) & $FFFFFF
        .dword (13 .bitand 5 > 3) & $FFFFFF
        .dword (13 .bitand 5 <= 3) & $FFFFFF
        .dword (13 .bitand 5 >= 3) & $FFFFFF
        .dword (13 .bitand 5 && 3) & $FFFFFF
        .dword (13 .bitand 5 .and 3) & $FFFFFF
        .dword (13 .bitand 5 .xor 3) & $FFFFFF
        .dword (13 .bitand 5 || 3) & $FFFFFF
        .dword (13 .bitand 5 .or 3) & $FFFFFF
; ^
        .dword (13 ^ 5 * 3) & $FFFFFF
        .dword (13 ^ 5 / 3) & $FFFFFF
        .dword (13 ^ 5 .mod 3) & $FFFFFF
        .dword (13 ^ 5 & 3) & $FFFFFF
        .dword (13 ^ 5 .bitand 3) & $FFFFFF
        .dword (13 ^ 5 ^ 3) & $FFFFFF
        .dword (13 ^ 5 .bitxor 3) & $FFFFFF
        .dword (13 ^ 5 << 3) & $FFFFFF
        .dword (13 ^ 5 .shl 3) & $FFFFFF
        .dword (13 ^ 5 >> 3) & $FFFFFF
        .dword (13 ^ 5 .shr 3) & $FFFFFF
        .dword (13 ^ 5 + 3) & $FFFFFF
        .dword (13 ^ 5 - 3) & $FFFFFF
        .dword (13 ^ 5 | 3) & $FFFFFF
        .dword (13 ^ 5 .bitor 3) & $FFFFFF
        .dword (13 ^ 5 = 3) & $FFFFFF
        .dword (13 ^ 5 <> 3) & $FFFFFF
        .dword (13 ^ 5 < 3) & $FFFFFF
        .dword (13 ^ 5 > 3) & $FFFFFF
        .dword (13 ^ 5 <= 3) & $FFFFFF
        .dword (13 ^ 5 >= 3) & $FFFFFF
        .dword (13 ^ 5 && 3) & $FFFFFF
        .dword (13 ^ 5 .and 3) & $FFFFFF
        .dword (13 ^ 5 .xor 3) & $FFFFFF
        .dword (13 ^ 5 || 3) & $FFFFFF
        .dword (13 ^ 5 .or 3) & $FFFFFF
; .bitxor
        .dword (13 .bitxor 5 * 3) & $FFFFFF
        .dword (13 .bitxor 5 / 3) & $FFFFFF
        .dword (13 .bitxor 5 .mod 3) & $FFFFFF
        .dword (13 .bitxor 5 & 3) & $FFFFFF
        .dword (13 .bitxor 5 .bitand 3) & $FFFFFF
        .dword (13 .bitxor 5 ^ 3) & $FFFFFF
        .dword (13 .bitxor 5 .bitxor 3) & $FFFFFF
        .dword (13 .bitxor 5 << 3) & $FFFFFF
        .dword (13 .bitxor 5 .shl 3) & $FFFFFF
        .dword (13 .bitxor 5 >> 3) & $FFFFFF
        .dword (13 .bitxor 5 .shr 3) & $FFFFFF
        .dword (13 .bitxor 5 + 3) & $FFFFFF
        .dword (13 .bitxor 5 - 3) & $FFFFFF
        .dword (13 .bitxor 5 | 3) & $FFFFFF
        .dword (13 .bitxor 5 .bitor 3) & $FFFFFF
        .dword (13 .bitxor 5 = 3) & $FFFFFF
        .dword (13 .bitxor 5 <> 3) & $FFFFFF
        .dword (13 .bitxor 5 < 3) & $FFFFFF
        .dword (13 .bitxor 5 > 3) & $FFFFFF
        .dword (13 .bitxor 5 <= 3) & $FFFFFF
        .dword (13 .bitxor 5 >= 3) & $FFFFFF
        .dword (13 .bitxor 5 && 3) & $FFFFFF
        .dword (13 .bitxor 5 .and 3) & $FFFFFF
        .dword (13 .bitxor 5 .xor 3) & $FFFFFF
        .dword (13 .bitxor 5 || 3) & $FFFFFF
        .dword (13 .bitxor 5 .or 3) & $FFFFFF
; <<
        .dword (13 << 5 * 3) & $FFFFFF
        .dword (13 << 5 / 3) & $FFFFFF
        .dword (13 << 5 .mod 3) & $FFFFFF
        .dword (13 << 5 & 3) & $FFFFFF
        .dword (13 << 5 .bitand 3) & $FFFFFF
        .dword (13 << 5 ^ 3) & $FFFFFF
        .dword (13 << 5 .bitxor 3) & $FFFFFF
        .dword (13 << 5 << 3) & $FFFFFF
        .dword (13 << 5 .shl 3) & $FFFFFF
        .dword (13 << 5 >> 3) & $FFFFFF
        .dword (13 << 5 .shr 3) & $FFFFFF
        .dword (13 << 5 + 3) & $FFFFFF
        .dword (13 << 5 - 3) & $FFFFFF
        .dword (13 << 5 | 3) & $FFFFFF
        .dword (13 << 5 .bitor 3) & $FFFFFF
        .dword (13 << 5 = 3) & $FFFFFF
        .dword (13 << 5 <> 3) & $FFFFFF
        .dword (13 << 5 < 3) & $FFFFFF
        .dword (13 << 5 > 3) & $FFFFFF
        .dword (13 << 5 <= 3) & $FFFFFF
        .dword (13 << 5 >= 3) & $FFFFFF
        .dword (13 << 5 && 3) & $FFFFFF
        .dword (13 << 5 .and 3) & $FFFFFF
        .dword (13 << 5 .xor 3) & $FFFFFF
        .dword (13 << 5 || 3) & $FFFFFF
        .dword (13 << 5 .or 3) & $FFFFFF
; .shl
        .dword (13 .shl 5 * 3) & $FFFFFF
        .dword (13 .shl 5 / 3) & $FFFFFF
        .dword (13 .shl 5 .mod 3) & $FFFFFF
        .dword (13 .shl 5 & 3) & $FFFFFF
        .dword (13 .shl 5 .bitand 3) & $FFFFFF
        .dword (13 .shl 5 ^ 3) & $FFFFFF
        .dword (13 .shl 5 .bitxor 3) & $FFFFFF
        .dword (13 .shl 5 << 3) & $FFFFFF
        .dword (13 .shl 5 .shl 3) & $FFFFFF
        .dword (13 .shl 5 >> 3) & $FFFFFF
        .dword (13 .shl 5 .shr 3) & $FFFFFF
        .dword (13 .shl 5 + 3) & $FFFFFF
        .dword (13 .shl 5 - 3) & $FFFFFF
        .dword (13 .shl 5 | 3) & $FFFFFF
        .dword (13 .shl 5 .bitor 3) & $FFFFFF
        .dword (13 .shl 5 = 3) & $FFFFFF
        .dword (13 .shl 5 <> 3) & $FFFFFF
        .dword (13 .shl 5 < 3) & $FFFFFF
        .dword (13 .shl 5 > 3) & $FFFFFF
        .dword (13 .shl 5 <= 3) & $FFFFFF
        .dword (13 .shl 5 >= 3) & $FFFFFF
        .dword (13 .shl 5 && 3) & $FFFFFF
        .dword (13 .shl 5 .and 3) & $FFFFFF
        .dword (13 .shl 5 .xor 3) & $FFFFFF
        .dword (13 .shl 5 || 3) & $FFFFFF
        .dword (13 .shl 5 .or 3) & $FFFFFF
; >>
        .dword (13 >> 5 * 3) & $FFFFFF
        .dword (13 >> 5 / 3) & $FFFFFF
        .dword (13 >> 5 .mod 3) & $FFFFFF
        .dword (13 >> 5 & 3) & $FFFFFF
        .dword (13 >> 5 .bitand 3) & $FFFFFF
        .dword (13 >> 5 ^ 3) & $FFFFFF
        .dword (13 >> 5 .bitxor 3) & $FFFFFF
        .dword (13 >> 5 << 3) & $FFFFFF
        .dword (13 >> 5 .shl 3) & $FFFFFF
        .dword (13 >> 5 >> 3) & $FFFFFF
        .dword (13 >> 5 .shr 3) & $FFFFFF
        .dword (13 >> 5 + 3) & $FFFFFF
        .dword (13 >> 5 - 3) & $FFFFFF
        .dword (13 >> 5 | 3) & $FFFFFF
        .dword (13 >> 5 .bitor 3) & $FFFFFF
        .dword (13 >> 5 = 3) & $FFFFFF
        .dword (13 >> 5 <> 3) & $FFFFFF
        .dword (13 >> 5 < 3) & $FFFFFF
        .dword (13 >> 5 > 3) & $FFFFFF
        .dword (13 >> 5 <= 3) & $FFFFFF
        .dword (13 >> 5 >= 3) & $FFFFFF
        .dword (13 >> 5 && 3) & $FFFFFF
        .dword (13 >> 5 .and 3) & $FFFFFF
        .dword (13 >> 5 .xor 3) & $FFFFFF
        .dword (13 >> 5 || 3) & $FFFFFF
        .dword (13 >> 5 .or 3) & $FFFFFF
; .shr
        .dword (13 .shr 5 * 3) & $FFFFFF
        .dword (13 .shr 5 / 3) & $FFFFFF
        .dword (13 .shr 5 .mod 3) & $FFFFFF
        .dword (13 .shr 5 & 3) & $FFFFFF
        .dword (13 .shr 5 .bitand 3) & $FFFFFF
        .dword (13 .shr 5 ^ 3) & $FFFFFF
        .dword (13 .shr 5 .bitxor 3) & $FFFFFF
        .dword (13 .shr 5 << 3) & $FFFFFF
        .dword (13 .shr 5 .shl 3) & $FFFFFF
        .dword (13 .shr 5 >> 3) & $FFFFFF
        .dword (13 .shr 5 .shr 3) & $FFFFFF
        .dword (13 .shr 5 + 3) & $FFFFFF
        .dword (13 .shr 5 - 3) & $FFFFFF
        .dword (13 .shr 5 | 3) & $FFFFFF
        .dword (13 .shr 5 .bitor 3) & $FFFFFF
        .dword (13 .shr 5 = 3) & $FFFFFF
        .dword (13 .shr 5 <> 3) & $FFFFFF
        .dword (13 .shr 5 < 3) & $FFFFFF
        .dword (13 .shr 5 > 3) & $FFFFFF
        .dword (13 .shr 5 <= 3) & $FFFFFF
        .dword (13 .shr 5 >= 3) & $FFFFFF
        .dword (13 .shr 5 && 3) & $FFFFFF
        .dword (13 .shr 5 .and 3) & $FFFFFF
        .dword (13 .shr 5 .xor 3) & $FFFFFF
        .dword (13 .shr 5 || 3) & $FFFFFF
        .dword (13 .shr 5 .or 3) & $FFFFFF
; +
        .dword (13 + 5 * 3) & $FFFFFF
        .dword (13 + 5 / 3) & $FFFFFF
        .dword (13 + 5 .mod 3) & $FFFFFF
        .dword (13 + 5 & 3) & $FFFFFF
        .dword (13 + 5 .bitand 3) & $FFFFFF
        .dword (13 + 5 ^ 3) & $FFFFFF
        .dword (13 + 5 .bitxor 3) & $FFFFFF
        .dword (13 + 5 << 3) & $FFFFFF
        .dword (13 + 5 .shl 3) & $FFFFFF
        .dword (13 + 5 >> 3) & $FFFFFF
        .dword (13 + 5 .shr 3) & $FFFFFF
        .dword (13 + 5 + 3) & $FFFFFF
        .dword (13 + 5 - 3) & $FFFFFF
        .dword (13 + 5 | 3) & $FFFFFF
        .dword (13 + 5 .bitor 3) & $FFFFFF
        .dword (13 + 5 = 3) & $FFFFFF
        .dword (13 + 5 <> 3) & $FFFFFF
        .dword (13 + 5 < 3) & $FFFFFF
        .dword (13 + 5 > 3) & $FFFFFF
        .dword (13 + 5 <= 3) & $FFFFFF
        .dword (13 + 5 >= 3) & $FFFFFF
        .dword (13 + 5 && 3) & $FFFFFF
        .dword (13 + 5 .and 3) & $FFFFFF
        .dword (13 + 5 .xor 3) & $FFFFFF
        .dword (13 + 5 || 3) & $FFFFFF
        .dword (13 + 5 .or 3) & $FFFFFF
; -
        .dword (13 - 5 * 3) & $FFFFFF
        .dword (13 - 5 / 3) & $FFFFFF
        .dword (13 - 5 .mod 3) & $FFFFFF
        .dword (13 - 5 & 3) & $FFFFFF
        .dword (13 - 5 .bitand 3) & $FFFFFF
        .dword (13 - 5 ^ 3) & $FFFFFF
        .dword (13 - 5 .bitxor 3) & $FFFFFF
        .dword (13 - 5 << 3) & $FFFFFF
        .dword (13 - 5 .shl 3) & $FFFFFF
        .dword (13 - 5 >> 3) & $FFFFFF
        .dword (13 - 5 .shr 3) & $FFFFFF
        .dword (13 - 5 + 3) & $FFFFFF
        .dword (13 - 5 - 3) & $FFFFFF
        .dword (13 - 5 | 3) & $FFFFFF
        .dword (13 - 5 .bitor 3) & $FFFFFF
        .dword (13 - 5 = 3) & $FFFFFF
        .dword (13 - 5 <> 3) & $FFFFFF
        .dword (13 - 5 < 3) & $FFFFFF
        .dword (13 - 5 > 3) & $FFFFFF
        .dword (13 - 5 <= 3) & $FFFFFF
        .dword (13 - 5 >= 3) & $FFFFFF
        .dword (13 - 5 && 3) & $FFFFFF
        .dword (13 - 5 .and 3) & $FFFFFF
        .dword (13 - 5 .xor 3) & $FFFFFF
        .dword (13 - 5 || 3) & $FFFFFF
        .dword (13 - 5 .or 3) & $FFFFFF
; |
        .dword (13 | 5 * 3) & $FFFFFF
        .dword (13 | 5 / 3) & $FFFFFF
        .dword (13 | 5 .mod 3) & $FFFFFF
        .dword (13 | 5 & 3) & $FFFFFF
        .dword (13 | 5 .bitand 3) & $FFFFFF
        .dword (13 | 5 ^ 3) & $FFFFFF
        .dword (13 | 5 .bitxor 3) & $FFFFFF
        .dword (13 | 5 << 3) & $FFFFFF
        .dword (13 | 5 .shl 3) & $FFFFFF
        .dword (13 | 5 >> 3) & $FFFFFF
        .dword (13 | 5 .shr 3) & $FFFFFF
        .dword (13 | 5 + 3) & $FFFFFF
        .dword (13 | 5 - 3) & $FFFFFF
        .dword (13 | 5 | 3) & $FFFFFF
        .dword (13 | 5 .bitor 3) & $FFFFFF
        .dword (13 | 5 = 3) & $FFFFFF
        .dword (13 | 5 <> 3) & $FFFFFF
        .dword (13 | 5 < 3) & $FFFFFF
        .dword (13 | 5 > 3) & $FFFFFF
        .dword (13 | 5 <= 3) & $FFFFFF
        .dword (13 | 5 >= 3) & $FFFFFF
        .dword (13 | 5 && 3) & $FFFFFF
        .dword (13 | 5 .and 3) & $FFFFFF
        .dword (13 | 5 .xor 3) & $FFFFFF
        .dword (13 | 5 || 3) & $FFFFFF
        .dword (13 | 5 .or 3) & $FFFFFF
; .bitor
        .dword (13 .bitor 5 * 3) & $FFFFFF
        .dword (13 .bitor 5 / 3) & $FFFFFF
        .dword (13 .bitor 5 .mod 3) & $FFFFFF
        .dword (13 .bitor 5 & 3) & $FFFFFF
        .dword (13 .bitor 5 .bitand 3) & $FFFFFF
        .dword (13 .bitor 5 ^ 3) & $FFFFFF
        .dword (13 .bitor 5 .bitxor 3) & $FFFFFF
        .dword (13 .bitor 5 << 3) & $FFFFFF
        .dword (13 .bitor 5 .shl 3) & $FFFFFF
        .dword (13 .bitor 5 >> 3) & $FFFFFF
        .dword (13 .bitor 5 .shr 3) & $FFFFFF
        .dword (13 .bitor 5 + 3) & $FFFFFF
        .dword (13 .bitor 5 - 3) & $FFFFFF
        .dword (13 .bitor 5 | 3) & $FFFFFF
        .dword (13 .bitor 5 .bitor 3) & $FFFFFF
        .dword (13 .bitor 5 = 3) & $FFFFFF
        .dword (13 .bitor 5 <> 3) & $FFFFFF
        .dword (13 .bitor 5 < 3) & $FFFFFF
        .dword (13 .bitor 5 > 3) & $FFFFFF
        .dword (13 .bitor 5 <= 3) & $FFFFFF
        .dword (13 .bitor 5 >= 3) & $FFFFFF
        .dword (13 .bitor 5 && 3) & $FFFFFF
        .dword (13 .bitor 5 .and 3) & $FFFFFF
        .dword (13 .bitor 5 .xor 3) & $FFFFFF
        .dword (13 .bitor 5 || 3) & $FFFFFF
        .dword (13 .bitor 5 .or 3) & $FFFFFF
; =
        .dword (13 = 5 * 3) & $FFFFFF
        .dword (13 = 5 / 3) & $FFFFFF
        .dword (13 = 5 .mod 3) & $FFFFFF
        .dword (13 = 5 & 3) & $FFFFFF
        .dword (13 = 5 .bitand 3) & $FFFFFF
        .dword (13 = 5 ^ 3) & $FFFFFF
        .dword (13 = 5 .bitxor 3) & $FFFFFF
        .dword (13 = 5 << 3) & $FFFFFF
        .dword (13 = 5 .shl 3) & $FFFFFF
        .dword (13 = 5 >> 3) & $FFFFFF
        .dword (13 = 5 .shr 3) & $FFFFFF
        .dword (13 = 5 + 3) & $FFFFFF
        .dword (13 = 5 - 3) & $FFFFFF
        .dword (13 = 5 | 3) & $FFFFFF
        .dword (13 = 5 .bitor 3) & $FFFFFF
        .dword (13 = 5 = 3) & $FFFFFF
        .dword (13 = 5 <> 3) & $FFFFFF
        .dword (13 = 5 < 3) & $FFFFFF
        .dword (13 = 5 > 3) & $FFFFFF
        .dword (13 = 5 <= 3) & $FFFFFF
        .dword (13 = 5 >= 3) & $FFFFFF
        .dword (13 = 5 && 3) & $FFFFFF
        .dword (13 = 5 .and 3) & $FFFFFF
        .dword (13 = 5 .xor 3) & $FFFFFF
        .dword (13 = 5 || 3) & $FFFFFF
        .dword (13 = 5 .or 3) & $FFFFFF
; <>
        .dword (13 <> 5 * 3) & $FFFFFF
        .dword (13 <> 5 / 3) & $FFFFFF
        .dword (13 <> 5 .mod 3) & $FFFFFF
        .dword (13 <> 5 & 3) & $FFFFFF
        .dword (13 <> 5 .bitand 3) & $FFFFFF
        .dword (13 <> 5 ^ 3) & $FFFFFF
        .dword (13 <> 5 .bitxor 3) & $FFFFFF
        .dword (13 <> 5 << 3) & $FFFFFF
        .dword (13 <> 5 .shl 3) & $FFFFFF
        .dword (13 <> 5 >> 3) & $FFFFFF
        .dword (13 <> 5 .shr 3) & $FFFFFF
        .dword (13 <> 5 + 3) & $FFFFFF
        .dword (13 <> 5 - 3) & $FFFFFF
        .dword (13 <> 5 | 3) & $FFFFFF
        .dword (13 <> 5 .bitor 3) & $FFFFFF
        .dword (13 <> 5 = 3) & $FFFFFF
        .dword (13 <> 5 <> 3) & $FFFFFF
        .dword (13 <> 5 < 3) & $FFFFFF
        .dword (13 <> 5 > 3) & $FFFFFF
        .dword (13 <> 5 <= 3) & $FFFFFF
        .dword (13 <> 5 >= 3) & $FFFFFF
        .dword (13 <> 5 && 3) & $FFFFFF
        .dword (13 <> 5 .and 3) & $FFFFFF
        .dword (13 <> 5 .xor 3) & $FFFFFF
        .dword (13 <> 5 || 3) & $FFFFFF
        .dword (13 <> 5 .or 3) & $FFFFFF
; <
        .dword (13 < 5 * 3) & $FFFFFF
        .dword (13 < 5 / 3) & $FFFFFF
        .dword (13 < 5 .mod 3) & $FFFFFF
        .dword (13 < 5 & 3) & $FFFFFF
        .dword (13 < 5 .bitand 3) & $FFFFFF
        .dword (13 < 5 ^ 3) & $FFFFFF
        .dword (13 < 5 .bitxor 3) & $FFFFFF
        .dword (13 < 5 << 3) & $FFFFFF
        .dword (13 < 5 .shl 3) & $FFFFFF
        .dword (13 < 5 >> 3) & $FFFFFF
        .dword (13 < 5 .shr 3) & $FFFFFF
        .dword (13 < 5 + 3) & $FFFFFF
        .dword (13 < 5 - 3) & $FFFFFF
        .dword (13 < 5 | 3) & $FFFFFF
        .dword (13 < 5 .bitor 3) & $FFFFFF
        .dword (13 < 5 = 3) & $FFFFFF
        .dword (13 < 5 <> 3) & $FFFFFF
        .dword (13 < 5 < 3) & $FFFFFF
        .dword (13 < 5 > 3) & $FFFFFF
        .dword (13 < 5 <= 3) & $FFFFFF
        .dword (13 < 5 >= 3) & $FFFFFF
        .dword (13 < 5 && 3) & $FFFFFF
        .dword (13 < 5 .and 3) & $FFFFFF
        .dword (13 < 5 .xor 3) & $FFFFFF
        .dword (13 < 5 || 3) & $FFFFFF
        .dword (13 < 5 .or 3) & $FFFFFF
; >
        .dword (13 > 5 * 3) & $FFFFFF
        .dword (13 > 5 / 3) & $FFFFFF
        .dword (13 > 5 .mod 3) & $FFFFFF
        .dword (13 > 5 & 3) & $FFFFFF
        .dword (13 > 5 .bitand 3) & $FFFFFF
        .dword (13 > 5 ^ 3) & $FFFFFF
        .dword (13 > 5 .bitxor 3) & $FFFFFF
        .dword (13 > 5 << 3) & $FFFFFF
        .dword (13 > 5 .shl 3) & $FFFFFF
        .dword (13 > 5 >> 3) & $FFFFFF
        .dword (13 > 5 .shr 3) & $FFFFFF
        .dword (13 > 5 + 3) & $FFFFFF
        .dword (13 > 5 - 3) & $FFFFFF
        .dword (13 > 5 | 3) & $FFFFFF
        .dword (13 > 5 .bitor 3) & $FFFFFF
        .dword (13 > 5 = 3) & $FFFFFF
        .dword (13 > 5 <> 3) & $FFFFFF
        .dword (13 > 5 < 3) & $FFFFFF
        .dword (13 > 5 > 3) & $FFFFFF
        .dword (13 > 5 <= 3) & $FFFFFF
        .dword (13 > 5 >= 3) & $FFFFFF
        .dword (13 > 5 && 3) & $FFFFFF
        .dword (13 > 5 .and 3) & $FFFFFF
        .dword (13 > 5 .xor 3) & $FFFFFF
        .dword (13 > 5 || 3) & $FFFFFF
        .dword (13 > 5 .or 3) & $FFFFFF
; <=
        .dword (13 <= 5 * 3) & $FFFFFF
        .dword (13 <= 5 / 3) & $FFFFFF
        .dword (13 <= 5 .mod 3) & $FFFFFF
        .dword (13 <= 5 & 3) & $FFFFFF
        .dword (13 <= 5 .bitand 3) & $FFFFFF
        .dword (13 <= 5 ^ 3) & $FFFFFF
        .dword (13 <= 5 .bitxor 3) & $FFFFFF
        .dword (13 <= 5 << 3) & $FFFFFF
        .dword (13 <= 5 .shl 3) & $FFFFFF
        .dword (13 <= 5 >> 3) & $FFFFFF
        .dword (13 <= 5 .shr 3) & $FFFFFF
        .dword (13 <= 5 + 3) & $FFFFFF
        .dword (13 <= 5 - 3) & $FFFFFF
        .dword (13 <= 5 | 3) & $FFFFFF
        .dword (13 <= 5 .bitor 3) & $FFFFFF
        .dword (13 <= 5 = 3) & $FFFFFF
        .dword (13 <= 5 <> 3) & $FFFFFF
        .dword (13 <= 5 < 3) & $FFFFFF
        .dword (13 <= 5 > 3) & $FFFFFF
        .dword (13 <= 5 <= 3) & $FFFFFF
        .dword (13 <= 5 >= 3) & $FFFFFF
        .dword (13 <= 5 && 3) & $FFFFFF
        .dword (13 <= 5 .and 3) & $FFFFFF
        .dword (13 <= 5 .xor 3) & $FFFFFF
        .dword (13 <= 5 || 3) & $FFFFFF
        .dword (13 <= 5 .or 3) & $FFFFFF
; >=
        .dword (13 >= 5 * 3) & $FFFFFF
        .dword (13 >= 5 / 3) & $FFFFFF
        .dword (13 >= 5 .mod 3) & $FFFFFF
        .dword (13 >= 5 & 3) & $FFFFFF
        .dword (13 >= 5 .bitand 3) & $FFFFFF
        .dword (13 >= 5 ^ 3) & $FFFFFF
        .dword (13 >= 5 .bitxor 3) & $FFFFFF
        .dword (13 >= 5 << 3) & $FFFFFF
        .dword (13 >= 5 .shl 3) & $FFFFFF
        .dword (13 >= 5 >> 3) & $FFFFFF
        .dword (13 >= 5 .shr 3) & $FFFFFF
        .dword (13 >= 5 + 3) & $FFFFFF
        .dword (13 >= 5 - 3) & $FFFFFF
        .dword (13 >= 5 | 3) & $FFFFFF
        .dword (13 >= 5 .bitor 3) & $FFFFFF
        .dword (13 >= 5 = 3) & $FFFFFF
        .dword (13 >= 5 <> 3) & $FFFFFF
        .dword (13 >= 5 < 3) & $FFFFFF
        .dword (13 >= 5 > 3) & $FFFFFF
        .dword (13 >= 5 <= 3) & $FFFFFF
        .dword (13 >= 5 >= 3) & $FFFFFF
        .dword (13 >= 5 && 3) & $FFFFFF
        .dword (13 >= 5 .and 3) & $FFFFFF
        .dword (13 >= 5 .xor 3) & $FFFFFF
        .dword (13 >= 5 || 3) & $FFFFFF
        .dword (13 >= 5 .or 3) & $FFFFFF
; &&
        .dword (13 && 5 * 3) & $FFFFFF
        .dword (13 && 5 / 3) & $FFFFFF
        .dword (13 && 5 .mod 3) & $FFFFFF
        .dword (13 && 5 & 3) & $FFFFFF
        .dword (13 && 5 .bitand 3) & $FFFFFF
        .dword (13 && 5 ^ 3) & $FFFFFF
        .dword (13 && 5 .bitxor 3) & $FFFFFF
        .dword (13 && 5 << 3) & $FFFFFF
        .dword (13 && 5 .shl 3) & $FFFFFF
        .dword (13 && 5 >> 3) & $FFFFFF
        .dword (13 && 5 .shr 3) & $FFFFFF
        .dword (13 && 5 + 3) & $FFFFFF
        .dword (13 && 5 - 3) & $FFFFFF
        .dword (13 && 5 | 3) & $FFFFFF
        .dword (13 && 5 .bitor 3) & $FFFFFF
        .dword (13 && 5 = 3) & $FFFFFF
        .dword (13 && 5 <> 3) & $FFFFFF
        .dword (13 && 5 < 3) & $FFFFFF
        .dword (13 && 5 > 3) & $FFFFFF
        .dword (13 && 5 <= 3) & $FFFFFF
        .dword (13 && 5 >= 3) & $FFFFFF
        .dword (13 && 5 && 3) & $FFFFFF
        .dword (13 && 5 .and 3) & $FFFFFF
        .dword (13 && 5 .xor 3) & $FFFFFF
        .dword (13 && 5 || 3) & $FFFFFF
        .dword (13 && 5 .or 3) & $FFFFFF
; .and
        .dword (13 .and 5 * 3) & $FFFFFF
        .dword (13 .and 5 / 3) & $FFFFFF
        .dword (13 .and 5 .mod 3) & $FFFFFF
        .dword (13 .and 5 & 3) & $FFFFFF
        .dword (13 .and 5 .bitand 3) & $FFFFFF
        .dword (13 .and 5 ^ 3) & $FFFFFF
        .dword (13 .and 5 .bitxor 3) & $FFFFFF
        .dword (13 .and 5 << 3) & $FFFFFF
        .dword (13 .and 5 .shl 3) & $FFFFFF
        .dword (13 .and 5 >> 3) & $FFFFFF
        .dword (13 .and 5 .shr 3) & $FFFFFF
        .dword (13 .and 5 + 3) & $FFFFFF
        .dword (13 .and 5 - 3) & $FFFFFF
        .dword (13 .and 5 | 3) & $FFFFFF
        .dword (13 .and 5 .bitor 3) & $FFFFFF
        .dword (13 .and 5 = 3) & $FFFFFF
        .dword (13 .and 5 <> 3) & $FFFFFF
        .dword (13 .and 5 < 3) & $FFFFFF
        .dword (13 .and 5 > 3) & $FFFFFF
        .dword (13 .and 5 <= 3) & $FFFFFF
        .dword (13 .and 5 >= 3) & $FFFFFF
        .dword (13 .and 5 && 3) & $FFFFFF
        .dword (13 .and 5 .and 3) & $FFFFFF
        .dword (13 .and 5 .xor 3) & $FFFFFF
        .dword (13 .and 5 || 3) & $FFFFFF
        .dword (13 .and 5 .or 3) & $FFFFFF
; .xor
        .dword (13 .xor 5 * 3) & $FFFFFF
        .dword (13 .xor 5 / 3) & $FFFFFF
        .dword (13 .xor 5 .mod 3) & $FFFFFF
        .dword (13 .xor 5 & 3) & $FFFFFF
        .dword (13 .xor 5 .bitand 3) & $FFFFFF
        .dword (13 .xor 5 ^ 3) & $FFFFFF
        .dword (13 .xor 5 .bitxor 3) & $FFFFFF
        .dword (13 .xor 5 << 3) & $FFFFFF
        .dword (13 .xor 5 .shl 3) & $FFFFFF
        .dword (13 .xor 5 >> 3) & $FFFFFF
        .dword (13 .xor 5 .shr 3) & $FFFFFF
        .dword (13 .xor 5 + 3) & $FFFFFF
        .dword (13 .xor 5 - 3) & $FFFFFF
        .dword (13 .xor 5 | 3) & $FFFFFF
        .dword (13 .xor 5 .bitor 3) & $FFFFFF
        .dword (13 .xor 5 = 3) & $FFFFFF
        .dword (13 .xor 5 <> 3) & $FFFFFF
        .dword (13 .xor 5 < 3) & $FFFFFF
        .dword (13 .xor 5 > 3) & $FFFFFF
        .dword (13 .xor 5 <= 3) & $FFFFFF
        .dword (13 .xor 5 >= 3) & $FFFFFF
        .dword (13 .xor 5 && 3) & $FFFFFF
        .dword (13 .xor 5 .and 3) & $FFFFFF
        .dword (13 .xor 5 .xor 3) & $FFFFFF
        .dword (13 .xor 5 || 3) & $FFFFFF
        .dword (13 .xor 5 .or 3) & $FFFFFF
; ||
        .dword (13 || 5 * 3) & $FFFFFF
        .dword (13 || 5 / 3) & $FFFFFF
        .dword (13 || 5 .mod 3) & $FFFFFF
        .dword (13 || 5 & 3) & $FFFFFF
        .dword (13 || 5 .bitand 3) & $FFFFFF
        .dword (13 || 5 ^ 3) & $FFFFFF
        .dword (13 || 5 .bitxor 3) & $FFFFFF
        .dword (13 || 5 << 3) & $FFFFFF
        .dword (13 || 5 .shl 3) & $FFFFFF
        .dword (13 || 5 >> 3) & $FFFFFF
        .dword (13 || 5 .shr 3) & $FFFFFF
        .dword (13 || 5 + 3) & $FFFFFF
        .dword (13 || 5 - 3) & $FFFFFF
        .dword (13 || 5 | 3) & $FFFFFF
        .dword (13 || 5 .bitor 3) & $FFFFFF
        .dword (13 || 5 = 3) & $FFFFFF
        .dword (13 || 5 <> 3) & $FFFFFF
        .dword (13 || 5 < 3) & $FFFFFF
        .dword (13 || 5 > 3) & $FFFFFF
        .dword (13 || 5 <= 3) & $FFFFFF
        .dword (13 || 5 >= 3) & $FFFFFF
        .dword (13 || 5 && 3) & $FFFFFF
        .dword (13 || 5 .and 3) & $FFFFFF
        .dword (13 || 5 .xor 3) & $FFFFFF
        .dword (13 || 5 || 3) & $FFFFFF
        .dword (13 || 5 .or 3) & $FFFFFF
; .or
        .dword (13 .or 5 * 3) & $FFFFFF
        .dword (13 .or 5 / 3) & $FFFFFF
        .dword (13 .or 5 .mod 3) & $FFFFFF
        .dword (13 .or 5 & 3) & $FFFFFF
        .dword (13 .or 5 .bitand 3) & $FFFFFF
        .dword (13 .or 5 ^ 3) & $FFFFFF
        .dword (13 .or 5 .bitxor 3) & $FFFFFF
        .dword (13 .or 5 << 3) & $FFFFFF
        .dword (13 .or 5 .shl 3) & $FFFFFF
        .dword (13 .or 5 >> 3) & $FFFFFF
        .dword (13 .or 5 .shr 3) & $FFFFFF
        .dword (13 .or 5 + 3) & $FFFFFF
        .dword (13 .or 5 - 3) & $FFFFFF
        .dword (13 .or 5 | 3) & $FFFFFF
        .dword (13 .or 5 .bitor 3) & $FFFFFF
        .dword (13 .or 5 = 3) & $FFFFFF
        .dword (13 .or 5 <> 3) & $FFFFFF
        .dword (13 .or 5 < 3) & $FFFFFF
        .dword (13 .or 5 > 3) & $FFFFFF
        .dword (13 .or 5 <= 3) & $FFFFFF
        .dword (13 .or 5 >= 3) & $FFFFFF
        .dword (13 .or 5 && 3) & $FFFFFF
        .dword (13 .or 5 .and 3) & $FFFFFF
        .dword (13 .or 5 .xor 3) & $FFFFFF
        .dword (13 .or 5 || 3) & $FFFFFF
        .dword (13 .or 5 .or 3) & $FFFFFF
; -
        .dword (- $123 * 3) & $FFFFFF, (13 * - (0 - 3)) & $FFFFFF
        .dword (- $123 / 3) & $FFFFFF, (13 / - (0 - 3)) & $FFFFFF
        .dword (- $123 .mod 3) & $FFFFFF, (13 .mod - (0 - 3)) & $FFFFFF
        .dword (- $123 & 3) & $FFFFFF, (13 & - (0 - 3)) & $FFFFFF
        .dword (- $123 .bitand 3) & $FFFFFF, (13 .bitand - (0 - 3)) & $FFFFFF
        .dword (- $123 ^ 3) & $FFFFFF, (13 ^ - (0 - 3)) & $FFFFFF
        .dword (- $123 .bitxor 3) & $FFFFFF, (13 .bitxor - (0 - 3)) & $FFFFFF
        .dword (- $123 << 3) & $FFFFFF, (13 << - (0 - 3)) & $FFFFFF
        .dword (- $123 .shl 3) & $FFFFFF, (13 .shl - (0 - 3)) & $FFFFFF
        .dword (-(0 - $123) >> 3) & $FFFFFF, (13 >> - (0 - 3)) & $FFFFFF
        .dword (-(0 - $123) .shr 3) & $FFFFFF, (13 .shr - (0 - 3)) & $FFFFFF
        .dword (- $123 + 3) & $FFFFFF, (13 + - (0 - 3)) & $FFFFFF
        .dword (- $123 - 3) & $FFFFFF, (13 - - (0 - 3)) & $FFFFFF
        .dword (- $123 | 3) & $FFFFFF, (13 | - (0 - 3)) & $FFFFFF
        .dword (- $123 .bitor 3) & $FFFFFF, (13 .bitor - (0 - 3)) & $FFFFFF
        .dword (- $123 = 3) & $FFFFFF, (13 = - (0 - 3)) & $FFFFFF
        .dword (- $123 <> 3) & $FFFFFF, (13 <> - (0 - 3)) & $FFFFFF
        .dword (- $123 < 3) & $FFFFFF, (13 < - (0 - 3)) & $FFFFFF
        .dword (- $123 > 3) & $FFFFFF, (13 > - (0 - 3)) & $FFFFFF
        .dword (- $123 <= 3) & $FFFFFF, (13 <= - (0 - 3)) & $FFFFFF
        .dword (- $123 >= 3) & $FFFFFF, (13 >= - (0 - 3)) & $FFFFFF
        .dword (- $123 && 3) & $FFFFFF, (13 && - (0 - 3)) & $FFFFFF
        .dword (- $123 .and 3) & $FFFFFF, (13 .and - (0 - 3)) & $FFFFFF
        .dword (- $123 .xor 3) & $FFFFFF, (13 .xor - (0 - 3)) & $FFFFFF
        .dword (- $123 || 3) & $FFFFFF, (13 || - (0 - 3)) & $FFFFFF
        .dword (- $123 .or 3) & $FFFFFF, (13 .or - (0 - 3)) & $FFFFFF
; +
        .dword (+ $123 * 3) & $FFFFFF, (13 * + 3) & $FFFFFF
        .dword (+ $123 / 3) & $FFFFFF, (13 / + 3) & $FFFFFF
        .dword (+ $123 .mod 3) & $FFFFFF, (13 .mod + 3) & $FFFFFF
        .dword (+ $123 & 3) & $FFFFFF, (13 & + 3) & $FFFFFF
        .dword (+ $123 .bitand 3) & $FFFFFF, (13 .bitand + 3) & $FFFFFF
        .dword (+ $123 ^ 3) & $FFFFFF, (13 ^ + 3) & $FFFFFF
        .dword (+ $123 .bitxor 3) & $FFFFFF, (13 .bitxor + 3) & $FFFFFF
        .dword (+ $123 << 3) & $FFFFFF, (13 << + 3) & $FFFFFF
        .dword (+ $123 .shl 3) & $FFFFFF, (13 .shl + 3) & $FFFFFF
        .dword (+ $123 >> 3) & $FFFFFF, (13 >> + 3) & $FFFFFF
        .dword (+ $123 .shr 3) & $FFFFFF, (13 .shr + 3) & $FFFFFF
        .dword (+ $123 + 3) & $FFFFFF, (13 + + 3) & $FFFFFF
        .dword (+ $123 - 3) & $FFFFFF, (13 - + 3) & $FFFFFF
        .dword (+ $123 | 3) & $FFFFFF, (13 | + 3) & $FFFFFF
        .dword (+ $123 .bitor 3) & $FFFFFF, (13 .bitor + 3) & $FFFFFF
        .dword (+ $123 = 3) & $FFFFFF, (13 = + 3) & $FFFFFF
        .dword (+ $123 <> 3) & $FFFFFF, (13 <> + 3) & $FFFFFF
        .dword (+ $123 < 3) & $FFFFFF, (13 < + 3) & $FFFFFF
        .dword (+ $123 > 3) & $FFFFFF, (13 > + 3) & $FFFFFF
        .dword (+ $123 <= 3) & $FFFFFF, (13 <= + 3) & $FFFFFF
        .dword (+ $123 >= 3) & $FFFFFF, (13 >= + 3) & $FFFFFF
        .dword (+ $123 && 3) & $FFFFFF, (13 && + 3) & $FFFFFF
        .dword (+ $123 .and 3) & $FFFFFF, (13 .and + 3) & $FFFFFF
        .dword (+ $123 .xor 3) & $FFFFFF, (13 .xor + 3) & $FFFFFF
        .dword (+ $123 || 3) & $FFFFFF, (13 || + 3) & $FFFFFF
        .dword (+ $123 .or 3) & $FFFFFF, (13 .or + 3) & $FFFFFF
; ~
        .dword (~ $123 * 3) & $FFFFFF, (13 * ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 / 3) & $FFFFFF, (13 / ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .mod 3) & $FFFFFF, (13 .mod ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 & 3) & $FFFFFF, (13 & ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .bitand 3) & $FFFFFF, (13 .bitand ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 ^ 3) & $FFFFFF, (13 ^ ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .bitxor 3) & $FFFFFF, (13 .bitxor ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 << 3) & $FFFFFF, (13 << ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .shl 3) & $FFFFFF, (13 .shl ~ (0 - 3)) & $FFFFFF
        .dword (~(0 - $123) >> 3) & $FFFFFF, (13 >> ~ (0 - 3)) & $FFFFFF
        .dword (~(0 - $123) .shr 3) & $FFFFFF, (13 .shr ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 + 3) & $FFFFFF, (13 + ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 - 3) & $FFFFFF, (13 - ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 | 3) & $FFFFFF, (13 | ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .bitor 3) & $FFFFFF, (13 .bitor ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 = 3) & $FFFFFF, (13 = ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 <> 3) & $FFFFFF, (13 <> ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 < 3) & $FFFFFF, (13 < ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 > 3) & $FFFFFF, (13 > ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 <= 3) & $FFFFFF, (13 <= ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 >= 3) & $FFFFFF, (13 >= ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 && 3) & $FFFFFF, (13 && ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .and 3) & $FFFFFF, (13 .and ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .xor 3) & $FFFFFF, (13 .xor ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 || 3) & $FFFFFF, (13 || ~ (0 - 3)) & $FFFFFF
        .dword (~ $123 .or 3) & $FFFFFF, (13 .or ~ (0 - 3)) & $FFFFFF
; .bitnot
        .dword (.bitnot $123 * 3) & $FFFFFF, (13 * .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 / 3) & $FFFFFF, (13 / .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .mod 3) & $FFFFFF, (13 .mod .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 & 3) & $FFFFFF, (13 & .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .bitand 3) & $FFFFFF, (13 .bitand .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 ^ 3) & $FFFFFF, (13 ^ .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .bitxor 3) & $FFFFFF, (13 .bitxor .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 << 3) & $FFFFFF, (13 << .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .shl 3) & $FFFFFF, (13 .shl .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot(0 - $123) >> 3) & $FFFFFF, (13 >> .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot(0 - $123) .shr 3) & $FFFFFF, (13 .shr .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 + 3) & $FFFFFF, (13 + .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 - 3) & $FFFFFF, (13 - .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 | 3) & $FFFFFF, (13 | .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .bitor 3) & $FFFFFF, (13 .bitor .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 = 3) & $FFFFFF, (13 = .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 <> 3) & $FFFFFF, (13 <> .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 < 3) & $FFFFFF, (13 < .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 > 3) & $FFFFFF, (13 > .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 <= 3) & $FFFFFF, (13 <= .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 >= 3) & $FFFFFF, (13 >= .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 && 3) & $FFFFFF, (13 && .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .and 3) & $FFFFFF, (13 .and .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .xor 3) & $FFFFFF, (13 .xor .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 || 3) & $FFFFFF, (13 || .bitnot (0 - 3)) & $FFFFFF
        .dword (.bitnot $123 .or 3) & $FFFFFF, (13 .or .bitnot (0 - 3)) & $FFFFFF
; <
        .dword (< $123 * 3) & $FFFFFF, (13 * < 3) & $FFFFFF
        .dword (< $123 / 3) & $FFFFFF, (13 / < 3) & $FFFFFF
        .dword (< $123 .mod 3) & $FFFFFF, (13 .mod < 3) & $FFFFFF
        .dword (< $123 & 3) & $FFFFFF, (13 & < 3) & $FFFFFF
        .dword (< $123 .bitand 3) & $FFFFFF, (13 .bitand < 3) & $FFFFFF
        .dword (< $123 ^ 3) & $FFFFFF, (13 ^ < 3) & $FFFFFF
        .dword (< $123 .bitxor 3) & $FFFFFF, (13 .bitxor < 3) & $FFFFFF
        .dword (< $123 << 3) & $FFFFFF, (13 << < 3) & $FFFFFF
        .dword (< $123 .shl 3) & $FFFFFF, (13 .shl < 3) & $FFFFFF
        .dword (< $123 >> 3) & $FFFFFF, (13 >> < 3) & $FFFFFF
        .dword (< $123 .shr 3) & $FFFFFF, (13 .shr < 3) & $FFFFFF
        .dword (< $123 + 3) & $FFFFFF, (13 + < 3) & $FFFFFF
        .dword (< $123 - 3) & $FFFFFF, (13 - < 3) & $FFFFFF
        .dword (< $123 | 3) & $FFFFFF, (13 | < 3) & $FFFFFF
        .dword (< $123 .bitor 3) & $FFFFFF, (13 .bitor < 3) & $FFFFFF
        .dword (< $123 = 3) & $FFFFFF, (13 = < 3) & $FFFFFF
        .dword (< $123 <> 3) & $FFFFFF, (13 <> < 3) & $FFFFFF
        .dword (< $123 < 3) & $FFFFFF, (13 < < 3) & $FFFFFF
        .dword (< $123 > 3) & $FFFFFF, (13 > < 3) & $FFFFFF
        .dword (< $123 <= 3) & $FFFFFF, (13 <= < 3) & $FFFFFF
        .dword (< $123 >= 3) & $FFFFFF, (13 >= < 3) & $FFFFFF
        .dword (< $123 && 3) & $FFFFFF, (13 && < 3) & $FFFFFF
        .dword (< $123 .and 3) & $FFFFFF, (13 .and < 3) & $FFFFFF
        .dword (< $123 .xor 3) & $FFFFFF, (13 .xor < 3) & $FFFFFF
        .dword (< $123 || 3) & $FFFFFF, (13 || < 3) & $FFFFFF
        .dword (< $123 .or 3) & $FFFFFF, (13 .or < 3) & $FFFFFF
; >
        .dword (> $123 * 3) & $FFFFFF, (13 * > $345) & $FFFFFF
        .dword (> $123 / 3) & $FFFFFF, (13 / > $345) & $FFFFFF
        .dword (> $123 .mod 3) & $FFFFFF, (13 .mod > $345) & $FFFFFF
        .dword (> $123 & 3) & $FFFFFF, (13 & > $345) & $FFFFFF
        .dword (> $123 .bitand 3) & $FFFFFF, (13 .bitand > $345) & $FFFFFF
        .dword (> $123 ^ 3) & $FFFFFF, (13 ^ > $345) & $FFFFFF
        .dword (> $123 .bitxor 3) & $FFFFFF, (13 .bitxor > $345) & $FFFFFF
        .dword (> $123 << 3) & $FFFFFF, (13 << > $345) & $FFFFFF
        .dword (> $123 .shl 3) & $FFFFFF, (13 .shl > $345) & $FFFFFF
        .dword (> $123 >> 3) & $FFFFFF, (13 >> > $345) & $FFFFFF
        .dword (> $123 .shr 3) & $FFFFFF, (13 .shr > $345) & $FFFFFF
        .dword (> $123 + 3) & $FFFFFF, (13 + > $345) & $FFFFFF
        .dword (> $123 - 3) & $FFFFFF, (13 - > $345) & $FFFFFF
        .dword (> $123 | 3) & $FFFFFF, (13 | > $345) & $FFFFFF
        .dword (> $123 .bitor 3) & $FFFFFF, (13 .bitor > $345) & $FFFFFF
        .dword (> $123 = 3) & $FFFFFF, (13 = > $345) & $FFFFFF
        .dword (> $123 <> 3) & $FFFFFF, (13 <> > $345) & $FFFFFF
        .dword (> $123 < 3) & $FFFFFF, (13 < > $345) & $FFFFFF
        .dword (> $123 > 3) & $FFFFFF, (13 > > $345) & $FFFFFF
        .dword (> $123 <= 3) & $FFFFFF, (13 <= > $345) & $FFFFFF
        .dword (> $123 >= 3) & $FFFFFF, (13 >= > $345) & $FFFFFF
        .dword (> $123 && 3) & $FFFFFF, (13 && > $345) & $FFFFFF
        .dword (> $123 .and 3) & $FFFFFF, (13 .and > $345) & $FFFFFF
        .dword (> $123 .xor 3) & $FFFFFF, (13 .xor > $345) & $FFFFFF
        .dword (> $123 || 3) & $FFFFFF, (13 || > $345) & $FFFFFF
        .dword (> $123 .or 3) & $FFFFFF, (13 .or > $345) & $FFFFFF
; ^
        .dword (^ $123 * 3) & $FFFFFF, (13 * ^ $34567) & $FFFFFF
        .dword (^ $123 / 3) & $FFFFFF, (13 / ^ $34567) & $FFFFFF
        .dword (^ $123 .mod 3) & $FFFFFF, (13 .mod ^ $34567) & $FFFFFF
        .dword (^ $123 & 3) & $FFFFFF, (13 & ^ $34567) & $FFFFFF
        .dword (^ $123 .bitand 3) & $FFFFFF, (13 .bitand ^ $34567) & $FFFFFF
        .dword (^ $123 ^ 3) & $FFFFFF, (13 ^ ^ $34567) & $FFFFFF
        .dword (^ $123 .bitxor 3) & $FFFFFF, (13 .bitxor ^ $34567) & $FFFFFF
        .dword (^ $123 << 3) & $FFFFFF, (13 << ^ $34567) & $FFFFFF
        .dword (^ $123 .shl 3) & $FFFFFF, (13 .shl ^ $34567) & $FFFFFF
        .dword (^ $123 >> 3) & $FFFFFF, (13 >> ^ $34567) & $FFFFFF
        .dword (^ $123 .shr 3) & $FFFFFF, (13 .shr ^ $34567) & $FFFFFF
        .dword (^ $123 + 3) & $FFFFFF, (13 + ^ $34567) & $FFFFFF
        .dword (^ $123 - 3) & $FFFFFF, (13 - ^ $34567) & $FFFFFF
        .dword (^ $123 | 3) & $FFFFFF, (13 | ^ $34567) & $FFFFFF
        .dword (^ $123 .bitor 3) & $FFFFFF, (13 .bitor ^ $34567) & $FFFFFF
        .dword (^ $123 = 3) & $FFFFFF, (13 = ^ $34567) & $FFFFFF
        .dword (^ $123 <> 3) & $FFFFFF, (13 <> ^ $34567) & $FFFFFF
        .dword (^ $123 < 3) & $FFFFFF, (13 < ^ $34567) & $FFFFFF
        .dword (^ $123 > 3) & $FFFFFF, (13 > ^ $34567) & $FFFFFF
        .dword (^ $123 <= 3) & $FFFFFF, (13 <= ^ $34567) & $FFFFFF
        .dword (^ $123 >= 3) & $FFFFFF, (13 >= ^ $34567) & $FFFFFF
        .dword (^ $123 && 3) & $FFFFFF, (13 && ^ $34567) & $FFFFFF
        .dword (^ $123 .and 3) & $FFFFFF, (13 .and ^ $34567) & $FFFFFF
        .dword (^ $123 .xor 3) & $FFFFFF, (13 .xor ^ $34567) & $FFFFFF
        .dword (^ $123 || 3) & $FFFFFF, (13 || ^ $34567) & $FFFFFF
        .dword (^ $123 .or 3) & $FFFFFF, (13 .or ^ $34567) & $FFFFFF
; !
        .byte ! 13 * 5, (! 0) * 1 & 1
        .byte ! 13 / 5, (! 0) / 1 & 1
        .byte ! 13 .mod 5, (! 0) .mod 1 & 1
        .byte ! 13 & 5, (! 0) & 1 & 1
        .byte ! 13 .bitand 5, (! 0) .bitand 1 & 1
        .byte ! 13 ^ 5, (! 0) ^ 1 & 1
        .byte ! 13 .bitxor 5, (! 0) .bitxor 1 & 1
        .byte ! 13 << 5, (! 0) << 1 & 1
        .byte ! 13 .shl 5, (! 0) .shl 1 & 1
        .byte ! 13 >> 5, (! 0) >> 1 & 1
        .byte ! 13 .shr 5, (! 0) .shr 1 & 1
        .byte ! 13 + 5, (! 0) + 1 & 1
        .byte ! 13 - 5, (! 0) - 1 & 1
        .byte ! 13 | 5, (! 0) | 1 & 1
        .byte ! 13 .bitor 5, (! 0) .bitor 1 & 1
        .byte ! 13 = 5, (! 0) = 1 & 1
        .byte ! 13 <> 5, (! 0) <> 1 & 1
        .byte ! 13 < 5, (! 0) < 1 & 1
        .byte ! 13 > 5, (! 0) > 1 & 1
        .byte ! 13 <= 5, (! 0) <= 1 & 1
        .byte ! 13 >= 5, (! 0) >= 1 & 1
        .byte ! 13 && 5, (! 0) && 1 & 1
        .byte ! 13 .and 5, (! 0) .and 1 & 1
        .byte ! 13 .xor 5, (! 0) .xor 1 & 1
        .byte ! 13 || 5, (! 0) || 1 & 1
        .byte ! 13 .or 5, (! 0) .or 1 & 1
; .not
        .byte .not 13 * 5, (.not 0) * 1 & 1
        .byte .not 13 / 5, (.not 0) / 1 & 1
        .byte .not 13 .mod 5, (.not 0) .mod 1 & 1
        .byte .not 13 & 5, (.not 0) & 1 & 1
        .byte .not 13 .bitand 5, (.not 0) .bitand 1 & 1
        .byte .not 13 ^ 5, (.not 0) ^ 1 & 1
        .byte .not 13 .bitxor 5, (.not 0) .bitxor 1 & 1
        .byte .not 13 << 5, (.not 0) << 1 & 1
        .byte .not 13 .shl 5, (.not 0) .shl 1 & 1
        .byte .not 13 >> 5, (.not 0) >> 1 & 1
        .byte .not 13 .shr 5, (.not 0) .shr 1 & 1
        .byte .not 13 + 5, (.not 0) + 1 & 1
        .byte .not 13 - 5, (.not 0) - 1 & 1
        .byte .not 13 | 5, (.not 0) | 1 & 1
        .byte .not 13 .bitor 5, (.not 0) .bitor 1 & 1
        .byte .not 13 = 5, (.not 0) = 1 & 1
        .byte .not 13 <> 5, (.not 0) <> 1 & 1
        .byte .not 13 < 5, (.not 0) < 1 & 1
        .byte .not 13 > 5, (.not 0) > 1 & 1
        .byte .not 13 <= 5, (.not 0) <= 1 & 1
        .byte .not 13 >= 5, (.not 0) >= 1 & 1
        .byte .not 13 && 5, (.not 0) && 1 & 1
        .byte .not 13 .and 5, (.not 0) .and 1 & 1
        .byte .not 13 .xor 5, (.not 0) .xor 1 & 1
        .byte .not 13 || 5, (.not 0) || 1 & 1
        .byte .not 13 .or 5, (.not 0) .or 1 & 1
; brackets, functions and signs inside each other
        .dword ((13 + 5) * 3 - (2 | 4)) & $FFFF, - - 5, < >$1234, ><$1234, ~ ~ 9, -(-(7))
        .dword .lobyte($1234 + 1), .hibyte($1234 * 2), .bankbyte($123456 >> 4), .loword($12345678), .hiword($12345678)
        .dword .max(3 + 4, 2 * 5), .min(3 | 4, .max(2, 1)), .strlen("abc") * 2, .const(5 + 1), .defined(start) + 1, .def(nothing)

        .segment "PATTERNS"
        .res 16
        .segment "VECTORS"
        .addr start, start, start
