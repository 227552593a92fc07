/* Sweeps and sequences in one program of its own, for the sanitizers; prints a sum of all answers. */
#include <stdio.h>

#include "drive_core.h"
#include "drive_settings.h"

static uint32_t seed = 20260131;
static uint32_t sum = 2166136261u;

static uint32_t any(uint32_t below)
{
    seed ^= seed << 13;
    seed ^= seed >> 17;
    seed ^= seed << 5;
    return seed % below;
}

static void take(uint32_t value)
{
    sum = (sum ^ value) * 16777619u;
}

static void sweep(uint32_t steps)
{
    const uint32_t last = (UINT32_C(1) << DRIVE_ADC_BITS) - 1;
    uint32_t x;
    uint32_t y;

    for (x = 0; x <= steps; x++) {
        for (y = 0; y <= steps; y++) {
            drive_push push;
            drive_pulses pulses;

            drive_read_push((uint16_t)(x * last / steps), (uint16_t)(y * last / steps), &push);
            drive_set_pulses(push.turn, push.drive, drive_ceiling((uint8_t)(x & 7)), &pulses);
            take((uint32_t)pulses.left_us << 16 | pulses.right_us);
        }
    }
}

static uint16_t reading(uint16_t now)
{
    const uint32_t width = (uint32_t)(DRIVE_BAND_HIGH - DRIVE_BAND_LOW);

    return any(4) ? now : (uint16_t)((uint32_t)DRIVE_BAND_LOW + any(width + 1));
}

static uint32_t sequence(uint32_t length)
{
    const uint16_t rest_x = (uint16_t)(((uint32_t)DRIVE_CENTRE_X << DRIVE_ADC_BITS) >> 15);
    const uint16_t rest_y = (uint16_t)(((uint32_t)DRIVE_CENTRE_Y << DRIVE_ADC_BITS) >> 15);
    drive_state state;
    drive_sample sample = {0, 0, 0, 1};
    drive_pulses pulses;
    uint32_t moving = 0;

    drive_start(&state);
    while (length--) {
        const uint32_t kind = any(100);

        sample.x = length % 200 > 140 ? rest_x : reading(sample.x);
        sample.y = length % 200 > 140 ? rest_y : reading(sample.y);
        sample.selector = any(30) ? sample.selector : (uint8_t)any(256);
        sample.fresh = kind != 0;
        if (length < 50 && kind < 20) {
            sample.x = (uint16_t)any(65536); /* at the end of a sequence wires break */
        }
        drive_step(&state, &sample, kind == 1 ? (uint16_t)any(65536) : DRIVE_FRAME_MS, &pulses);
        moving += state.stage == DRIVE_ARMED && (state.turn != 0 || state.drive != 0);
        take((uint32_t)pulses.left_us << 16 | pulses.right_us);
        take((uint32_t)state.stage << 16 | state.ceiling);
    }
    return moving;
}

static void letter(char sign)
{
    putchar(sign);
}

int main(void)
{
    uint32_t moving = 0;
    uint32_t round;

    drive_tell_digest(letter);
    sweep(DRIVE_ADC_BITS < 10 ? 255 : 640);
    for (round = 0; round < 300; round++) {
        moving += sequence(1000);
    }
    printf(" %08lX %lu\n", (unsigned long)sum, (unsigned long)moving);
    return 0;
}
