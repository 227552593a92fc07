/* What the tests ask of the core: every position settled, and sequences of steps. */
#include "drive_core.h"
#include "drive_settings.h"

typedef struct {
    uint16_t x;
    uint16_t y;
    uint16_t elapsed_ms;
    uint8_t selector;
    uint8_t fresh;
} given;

typedef struct {
    int32_t turn;
    int32_t drive;
    uint16_t left_us;
    uint16_t right_us;
    uint16_t ceiling;
    uint8_t stage;
    uint8_t resting;
} told;

void settle(uint32_t first, uint32_t count, uint8_t selector, uint16_t *left_us, uint16_t *right_us, uint8_t *kinds);
void run(const given *steps, uint32_t count, told *answers);
uint32_t state_size(void);

void settle(uint32_t first, uint32_t count, uint8_t selector, uint16_t *left_us, uint16_t *right_us, uint8_t *kinds)
{
    const uint16_t ceiling = drive_ceiling(selector);
    uint32_t place;

    for (place = 0; place < count; place++) {
        const uint16_t x = (uint16_t)((first + place) & ((UINT32_C(1) << DRIVE_ADC_BITS) - 1));
        const uint16_t y = (uint16_t)((first + place) >> DRIVE_ADC_BITS);
        drive_push push;
        drive_pulses pulses;

        drive_read_push(x, y, &push);
        drive_set_pulses(push.turn, push.drive, ceiling, &pulses);
        left_us[place] = pulses.left_us;
        right_us[place] = pulses.right_us;
        kinds[place] = (uint8_t)(push.at_rest + 2 * drive_is_possible(x, y));
    }
}

void run(const given *steps, uint32_t count, told *answers)
{
    drive_state state;
    uint32_t place;

    drive_start(&state);
    for (place = 0; place < count; place++) {
        drive_sample sample;
        drive_pulses pulses;

        sample.x = steps[place].x;
        sample.y = steps[place].y;
        sample.selector = steps[place].selector;
        sample.fresh = steps[place].fresh;
        drive_step(&state, &sample, steps[place].elapsed_ms, &pulses);
        answers[place].turn = state.turn;
        answers[place].drive = state.drive;
        answers[place].left_us = pulses.left_us;
        answers[place].right_us = pulses.right_us;
        answers[place].ceiling = state.ceiling;
        answers[place].stage = state.stage;
        answers[place].resting = state.resting;
    }
}

uint32_t state_size(void)
{
    return (uint32_t)sizeof(drive_state);
}
