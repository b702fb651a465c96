/* The yardstick `interpreter`: Lapwing's instruction set by hand, counted in the clocks that the machine takes.
   It shares nothing with the chips, so it is a second model of the machine as well. */
#include <stdint.h>

struct state {
    uint64_t clocks;
    uint16_t pc, x, y, stack, count;
    uint8_t acc, carry, zero, negative, lamps, spare, keys, r[8];
};

#define BYTE memory[s.pc++]
#define WORD (s.pc += 2, (uint16_t)(memory[(uint16_t)(s.pc - 2)] | memory[(uint16_t)(s.pc - 1)] << 8))
#define FLAGS(v) (byte = (v), s.zero = byte == 0, s.negative = byte >> 7, byte)
#define TAKE(v) s.acc = FLAGS(v)
#define STORE(at, v) do { uint16_t to = (at); if (to & 0x8000) memory[to] = (v); } while (0)
#define SUM(a, b, c) (wide = (a) + (b) + (c), s.carry = wide >> 8 & 1, (uint8_t)wide)
#define BANK(base) case base: case base + 1: case base + 2: case base + 3: \
    case base + 4: case base + 5: case base + 6: case base + 7
#define BRANCH(condition) word = WORD; if (condition) { s.pc = word; spent = 4; } else spent = 3; break

/* Whole instructions, until `least` clocks are over or the machine halts. */
void interpret(struct state *at, uint8_t *memory, uint64_t least) {
    struct state s = *at;
    uint64_t end = s.clocks + least;
    while (s.clocks < end) {
        uint8_t opcode = BYTE, byte, *r = &s.r[opcode & 7];
        unsigned wide, spent = 2;
        uint16_t word;
        s.count++;
        switch (opcode) {
        case 0x00: break;
        case 0x01: TAKE(BYTE); break;
        BANK(0x10): TAKE(*r); break;
        BANK(0x18): *r = s.acc; break;
        BANK(0x20): *r = BYTE; break;
        BANK(0x40): TAKE(SUM(s.acc, *r, 0)); spent = 3; break;
        BANK(0x48): TAKE(SUM(s.acc, *r, s.carry)); spent = 3; break;
        BANK(0x50): TAKE(SUM(s.acc, *r ^ 255, 1)); spent = 3; break;
        BANK(0x58): TAKE(s.acc & *r); spent = 3; break;
        BANK(0x60): TAKE(s.acc | *r); spent = 3; break;
        BANK(0x68): TAKE(s.acc ^ *r); spent = 3; break;
        BANK(0x70): FLAGS(SUM(s.acc, *r ^ 255, 1)); spent = 3; break;
        case 0x80: byte = BYTE; TAKE(SUM(s.acc, byte, 0)); spent = 3; break;
        case 0x81: byte = BYTE; TAKE(SUM(s.acc, (byte ^ 255), 1)); spent = 3; break;
        case 0x82: byte = BYTE; TAKE(s.acc & byte); spent = 3; break;
        case 0x83: byte = BYTE; FLAGS(SUM(s.acc, (byte ^ 255), 1)); spent = 3; break;
        case 0x88: TAKE(SUM(s.acc, 0, 1)); break;
        case 0x89: TAKE(SUM(s.acc, 255, 0)); break;
        case 0x8a: TAKE(SUM(s.acc, s.acc, 0)); break;
        case 0x8b: TAKE(SUM(s.acc, s.acc, s.carry)); break;
        case 0x8c: wide = s.acc & 1; TAKE(s.acc >> 1); s.carry = wide; break;
        case 0x8d: wide = s.acc & 1; TAKE(s.acc >> 1 | s.carry << 7); s.carry = wide; break;
        case 0x8e: TAKE(~s.acc); break;
        case 0x8f: TAKE(0); break;
        case 0x90: s.x = WORD; spent = 3; break;
        case 0x91: s.y = WORD; spent = 3; break;
        case 0x92: s.stack = WORD; spent = 3; break;
        case 0x94: s.x++; break;
        case 0x95: s.y++; break;
        case 0x98: TAKE(s.x); break;
        case 0x99: TAKE(s.x >> 8); break;
        case 0x9a: TAKE(s.y); break;
        case 0x9b: TAKE(s.y >> 8); break;
        case 0x9c: TAKE(s.count); break;
        case 0x9d: TAKE(s.count >> 8); break;
        case 0xa0: TAKE(memory[s.x]); break;
        case 0xa1: STORE(s.x, s.acc); break;
        case 0xa2: TAKE(memory[s.y]); break;
        case 0xa3: STORE(s.y, s.acc); break;
        case 0xa4: TAKE(memory[s.x++]); break;
        case 0xa5: STORE(s.y++, s.acc); break;
        case 0xa8: word = WORD; TAKE(memory[word]); spent = 4; break;
        case 0xa9: word = WORD; STORE(word, s.acc); spent = 4; break;
        case 0xb0: word = WORD; s.pc = word; spent = 4; break;
        case 0xb1: BRANCH(s.carry);
        case 0xb2: BRANCH(!s.carry);
        case 0xb3: BRANCH(s.zero);
        case 0xb4: BRANCH(!s.zero);
        case 0xb5: BRANCH(s.negative);
        case 0xb8:
            word = WORD;
            STORE(--s.stack, s.pc >> 8);
            STORE(--s.stack, s.pc);
            s.pc = word;
            spent = 6;
            break;
        case 0xb9:
            word = memory[s.stack++];
            s.pc = word | memory[s.stack++] << 8;
            spent = 4;
            break;
        case 0xba: STORE(--s.stack, s.acc); spent = 3; break;
        case 0xbb: TAKE(memory[s.stack++]); break;
        case 0xc0: s.lamps = s.acc; break;
        case 0xc1: s.spare = s.acc; break;
        case 0xc2: TAKE(s.keys); break;
        case 0xc3: TAKE(s.spare); break;
        default: s.clocks = end; goto halted;
        }
        s.clocks += spent;
    }
halted:
    *at = s;
}
