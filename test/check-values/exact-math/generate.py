"""Makes the check values of units/exact-math.ts with the arbitrary-precision library mpmath (Debian: python3-mpmath).

  python3 generate.py table  > table.json   2,000 rows: function, argument and correctly rounded result as 64-bit hex
  python3 generate.py consts                the constants of exact-math.ts

The argument goes through mpmath with 200 bits and the result is rounded once to a double (float() of an mpf rounds to
nearest even, subnormal results through an exact scaling).
"""
import json
import random
import struct
import sys

from mpmath import mp, mpf

mp.prec = 400


def bits(value):
    return struct.pack('>d', value).hex()


def to_double(value):
    """Round an mpf to the nearest double, subnormals included."""
    if value == 0:
        return 0.0
    mantissa, exponent = mp.frexp(value)
    if exponent > -1021:
        return float(value)
    units = int(mp.nint(mp.ldexp(value, 1074)))  # ties: nint rounds half to even
    return units * 5e-324


def arguments(rng):
    rows = []
    for _ in range(800):
        rows.append(('exp', rng.uniform(-745, 709)))
    for x in (0.0, -0.0, 1.0, -1.0, 709.0, -745.0, -708.4, -744.9, 5e-324, 1e-300, 1e-17, -1e-17, 0.5, 0.010830424696249145):
        rows.append(('exp', x))
    while len(rows) < 1000:
        rows.append(('exp', rng.choice([-1, 1]) * 10 ** rng.uniform(-12, 1)))
    for name in ('sin', 'cos'):
        for _ in range(300):
            rows.append((name, rng.uniform(-1e5, 1e5)))
        for _ in range(60):  # closest doubles to multiples of pi/2: the hard cases of the reduction
            rows.append((name, float(rng.randint(-63661, 63661) * mp.pi / 2)))
        for x in (0.0, -0.0, 1e5, -1e5, 5e-324, 1e-8, 0.7853981633974483, 3.141592653589793):
            rows.append((name, x))
        while sum(1 for row in rows if row[0] == name) < 500:
            rows.append((name, rng.choice([-1, 1]) * 10 ** rng.uniform(-9, 2)))
    return rows


def table():
    rng = random.Random(20260101)
    call = {'exp': mp.exp, 'sin': mp.sin, 'cos': mp.cos}
    rows = [[name, bits(x), bits(to_double(call[name](mpf(x))) if not (name == 'sin' and x == 0) else x)] for name, x in arguments(rng)]
    print('[\n' + ',\n'.join(json.dumps(row) for row in rows) + '\n]')


def head(value, keep):
    """The leading `keep` bits of value, as a double."""
    _, exponent = mp.frexp(value)
    return float(mp.ldexp(mp.floor(mp.ldexp(value, keep - exponent)), exponent - keep))


def constants():
    step = mp.log(2) / 32
    high = head(step, 36)
    print('LN2_32_HIGH', repr(high), 'LN2_32_LOW', repr(float(step - mpf(high))))
    for j in range(32):
        value = mpf(2) ** (mpf(j) / 32)
        high = float(value)
        print(f'  [{high!r}, {float(value - mpf(high))!r}],')
    rest = mp.pi / 2
    for part in range(3):
        high = head(rest, 33)
        print('PI_2 part', repr(high))
        rest -= mpf(high)
    print('PI_2 rest', repr(float(rest)))
    print('LN2', repr(head(mp.log(2), 32)), repr(float(mp.log(2) - mpf(head(mp.log(2), 32)))))


table() if sys.argv[1:] == ['table'] else constants()
