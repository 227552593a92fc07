/* The core on a simulated 8-bit controller: 10,000 steps, each answer and the cycles of the slowest on the serial line.
 *
 * A line is four numbers of four hexadecimal digits: both pulses settled, and both of the step. */
#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>

#include "drive_core.h"
#include "drive_settings.h"

#define POSITIONS 10000u
#define RESTING 40u

static uint32_t seed = 20260131;

static void put(char sign)
{
    while (!(UCSR0A & (1 << UDRE0))) {
    }
    UDR0 = (uint8_t)sign;
}

static void put_hex(uint16_t number)
{
    int8_t place;

    for (place = 12; place >= 0; place = (int8_t)(place - 4)) {
        const uint8_t digit = (uint8_t)((number >> place) & 15);

        put((char)(digit < 10 ? '0' + digit : 'A' + digit - 10));
    }
}

static uint16_t any(uint16_t mask)
{
    seed = seed * UINT32_C(1664525) + UINT32_C(1013904223);
    return (uint16_t)((seed >> 16) & mask);
}

int main(void)
{
    const uint16_t mask = (uint16_t)((UINT32_C(1) << DRIVE_ADC_BITS) - 1);
    drive_state state;
    drive_sample sample;
    drive_push push;
    drive_pulses settled;
    drive_pulses pulses;
    uint16_t round;
    uint16_t cycles;
    uint16_t nothing;
    uint16_t worst = 0;

    UBRR0 = 0;
    UCSR0A = (1 << U2X0);
    UCSR0B = (1 << TXEN0);
    TCCR1B = (1 << CS10); /* the timer counts cycles */
    TCNT1 = 0;
    nothing = TCNT1;
    drive_start(&state);
    drive_tell_digest(put);
    put('\n');
    for (round = 0; round < POSITIONS + RESTING; round++) {
        sample.x = any(mask);
        sample.y = any(mask);
        sample.selector = (uint8_t)(any(7));
        sample.fresh = 1;
        if (round < RESTING) {
            sample.x = (uint16_t)(((uint32_t)DRIVE_CENTRE_X << DRIVE_ADC_BITS) >> 15);
            sample.y = (uint16_t)(((uint32_t)DRIVE_CENTRE_Y << DRIVE_ADC_BITS) >> 15);
        }
        drive_read_push(sample.x, sample.y, &push);
        drive_set_pulses(push.turn, push.drive, drive_ceiling(sample.selector), &settled);
        if (!drive_is_possible(sample.x, sample.y)) {
            sample.fresh = 0; /* so that it goes on: a broken wire would latch it */
        }
        TCNT1 = 0;
        drive_step(&state, &sample, DRIVE_FRAME_MS, &pulses);
        cycles = TCNT1;
        worst = cycles > worst ? cycles : worst;
        put_hex(settled.left_us);
        put_hex(settled.right_us);
        put_hex(pulses.left_us);
        put_hex(pulses.right_us);
        put('\n');
    }
    put_hex((uint16_t)(worst - nothing));
    put('\n');
    put_hex((uint16_t)sizeof(drive_state));
    put('\n');
    while (!(UCSR0A & (1 << UDRE0))) {
    }
    cli();
    sleep_enable();
    sleep_cpu();
    return 0;
}
