/* From the readings of a stick to the pulses of two motor controllers. See drive_core.h and README.txt.
 *
 * Scales are powers of two: readings are brought to 16 bits, a full command is 2^14, and a command that moves
 * keeps 4 bits more. Sizes are shifted, never signed values. No product passes 2^31 for numbers of a drive_settings.h
 * that passes its own check.
 */
#include "drive_core.h"
#include "drive_settings.h"

#if DRIVE_SETTINGS_VERSION != DRIVE_CORE_VERSION
#error "drive_settings.h was made for another version of the core: take both from one archive."
#endif
#if DRIVE_CHECK_COMPUTED != DRIVE_CHECK
#error "drive_settings.h was changed by hand: make it anew from the record."
#endif

#define FULL_BITS 14
#define FULL (UINT32_C(1) << FULL_BITS)
#define HALF (UINT32_C(1) << (FULL_BITS - 1))
#define GAIN_BITS 16
#define FINE_BITS 4
#define SHARE_BITS 12

static uint32_t size_of(int32_t value)
{
    return value < 0 ? (uint32_t)(-value) : (uint32_t)value;
}

static int32_t with_sign(uint32_t size, uint8_t negative)
{
    return negative ? -(int32_t)size : (int32_t)size;
}

static uint16_t added(uint16_t a, uint16_t b)
{
    const uint32_t sum = (uint32_t)a + (uint32_t)b;

    return sum > UINT16_MAX ? (uint16_t)UINT16_MAX : (uint16_t)sum;
}

/* One way of the push: from a step from the centre, on the scale of 16 bits, to its part of the turned axis. */
static int32_t turned(int32_t x, int32_t from_x, int32_t y, int32_t from_y)
{
    const int32_t sum = x * from_x + y * from_y;

    return with_sign((size_of(sum) + HALF) >> FULL_BITS, sum < 0);
}

static int32_t from_centre(uint16_t reading, int32_t centre)
{
    return (int32_t)((uint32_t)reading << (16 - DRIVE_ADC_BITS)) - centre;
}

static uint32_t shaped(uint32_t command)
{
    const uint32_t cubed = (((command * command) >> FULL_BITS) * command) >> FULL_BITS;

    return ((FULL - (uint32_t)DRIVE_EXPO) * command + (uint32_t)DRIVE_EXPO * cubed + HALF) >> FULL_BITS;
}

/* Command of an axis that is pushed this far: nothing within the deadband, full from the throw on. */
static uint32_t command_of(uint32_t size, uint32_t throw_, uint32_t gain, uint32_t share)
{
    uint32_t command = FULL;

    if (size <= (uint32_t)DRIVE_DEADBAND) {
        return 0;
    }
    if (size < throw_) {
        command = ((size - (uint32_t)DRIVE_DEADBAND) * gain + (UINT32_C(1) << (GAIN_BITS - 1))) >> GAIN_BITS;
    }
    return (shaped(command) * share) >> FULL_BITS;
}

uint8_t drive_is_possible(uint16_t x, uint16_t y)
{
    return x >= (uint16_t)DRIVE_BAND_LOW && x <= (uint16_t)DRIVE_BAND_HIGH && y >= (uint16_t)DRIVE_BAND_LOW
        && y <= (uint16_t)DRIVE_BAND_HIGH;
}

void drive_read_push(uint16_t x, uint16_t y, drive_push *push)
{
    const int32_t step_x = from_centre(x, DRIVE_CENTRE_X);
    const int32_t step_y = from_centre(y, DRIVE_CENTRE_Y);
    const int32_t right = turned(step_x, DRIVE_RIGHT_FROM_X, step_y, DRIVE_RIGHT_FROM_Y);
    const int32_t forward = turned(step_x, DRIVE_FORWARD_FROM_X, step_y, DRIVE_FORWARD_FROM_Y);
    const uint32_t aside = size_of(right);
    const uint32_t along = size_of(forward);
    uint32_t turn;
    uint32_t drive;

    if (right < 0) {
        turn = command_of(aside, DRIVE_THROW_LEFT, DRIVE_GAIN_LEFT, DRIVE_TURN_GAIN);
    } else {
        turn = command_of(aside, DRIVE_THROW_RIGHT, DRIVE_GAIN_RIGHT, DRIVE_TURN_GAIN);
    }
    if (forward < 0) {
        drive = command_of(along, DRIVE_THROW_BACK, DRIVE_GAIN_BACK, DRIVE_REVERSE_GAIN);
    } else {
        drive = command_of(along, DRIVE_THROW_FORWARD, DRIVE_GAIN_FORWARD, FULL);
    }
    push->turn = with_sign(turn, right < 0);
    push->drive = with_sign(drive, forward < 0);
    push->at_rest = aside <= (uint32_t)DRIVE_DEADBAND && along <= (uint32_t)DRIVE_DEADBAND;
}

uint16_t drive_ceiling(uint8_t selector)
{
#if DRIVE_HAS_SELECTOR
    if (selector < DRIVE_CEILING_COUNT) {
        switch (selector) {
        case 0:
            return DRIVE_CEILING_0;
        case 1:
            return DRIVE_CEILING_1;
        case 2:
            return DRIVE_CEILING_2;
        case 3:
            return DRIVE_CEILING_3;
        default:
            return DRIVE_CEILING_4;
        }
    }
#else
    (void)selector;
#endif
    return DRIVE_CEILING_SLOWEST;
}

/* The lesser of two wheel commands, when the larger is brought down to full: the one division of a step. */
static uint32_t brought_down(uint32_t lesser, uint32_t larger)
{
    return (lesser * FULL + larger / 2) / larger;
}

static uint16_t pulse(uint32_t size, uint8_t shorter, uint16_t ceiling, uint16_t neutral_us)
{
    const uint32_t under_ceiling = (size * (uint32_t)ceiling) >> FULL_BITS;
    const uint32_t span_us = (under_ceiling * (uint32_t)DRIVE_SPAN_US + HALF) >> FULL_BITS;

    return shorter ? (uint16_t)(neutral_us - span_us) : (uint16_t)(neutral_us + span_us);
}

void drive_set_pulses(int32_t turn, int32_t drive, uint16_t ceiling, drive_pulses *pulses)
{
    const int32_t left = drive + turn;
    const int32_t right = drive - turn;
    const uint8_t left_is_shorter = (uint8_t)((left < 0) != DRIVE_INVERTED_LEFT);
    const uint8_t right_is_shorter = (uint8_t)((right < 0) != DRIVE_INVERTED_RIGHT);
    uint32_t left_size = size_of(left);
    uint32_t right_size = size_of(right);

    if (left_size > FULL && left_size >= right_size) {
        right_size = brought_down(right_size, left_size);
        left_size = FULL;
    } else if (right_size > FULL) {
        left_size = brought_down(left_size, right_size);
        right_size = FULL;
    }
    pulses->left_us = pulse(left_size, left_is_shorter, ceiling, DRIVE_NEUTRAL_LEFT_US);
    pulses->right_us = pulse(right_size, right_is_shorter, ceiling, DRIVE_NEUTRAL_RIGHT_US);
}

/* An axis command on its way to where the stick is. Nothing at once when the stick is within the deadband of that
 * axis, and from nothing when it has crossed to the other side: neither smoothing nor a slow fall delays a stop. */
static int32_t moved(int32_t now, int32_t target, uint8_t frame_is_over)
{
    const uint8_t negative = target < 0;
    const uint32_t to = size_of(target) << FINE_BITS;
    uint32_t from = size_of(now);
    uint32_t gap;
    uint32_t step;
    uint32_t most;

    if (target == 0) {
        return 0;
    }
    if ((now < 0) != negative) {
        from = 0;
    }
    if (frame_is_over && from != to) {
        gap = from < to ? to - from : from - to;
        most = from < to ? (uint32_t)DRIVE_RISE : (uint32_t)DRIVE_FALL;
        step = (gap * (uint32_t)DRIVE_SMOOTHING + (UINT32_C(1) << (SHARE_BITS - 1))) >> SHARE_BITS;
        if (step == 0) {
            step = 1;
        }
        if (step > most) {
            step = most;
        }
        from = from < to ? from + step : from - step;
    }
    return with_sign(from, negative);
}

static void halt(drive_state *state, uint8_t stage)
{
    state->turn = 0;
    state->drive = 0;
    state->rest_ms = 0;
    state->resting = 0;
    state->stage = stage;
}

void drive_start(drive_state *state)
{
    halt(state, DRIVE_WAITING);
    state->age_ms = 0;
    state->credit_ms = 0;
    state->ceiling = DRIVE_CEILING_SLOWEST;
}

/* Counts how long the stick has been at rest, and arms the drive when that is long enough. */
static void wait_for_rest(drive_state *state, uint8_t at_rest, uint16_t elapsed_ms)
{
    if (at_rest && state->resting) {
        state->rest_ms = added(state->rest_ms, elapsed_ms);
    } else {
        state->rest_ms = 0;
    }
    state->resting = at_rest;
    if (state->rest_ms >= DRIVE_REST_MS) {
        state->stage = DRIVE_ARMED;
    }
}

static uint8_t take_frame(drive_state *state, uint16_t elapsed_ms)
{
    state->credit_ms = added(state->credit_ms, elapsed_ms);
    if (state->credit_ms < DRIVE_FRAME_MS) {
        return 0;
    }
    state->credit_ms = (uint16_t)(state->credit_ms - DRIVE_FRAME_MS);
    if (state->credit_ms >= DRIVE_FRAME_MS) {
        state->credit_ms = DRIVE_FRAME_MS - 1;
    }
    return 1;
}

static void follow(drive_state *state, const drive_sample *sample, uint16_t elapsed_ms)
{
    const uint8_t frame_is_over = take_frame(state, elapsed_ms);
    const uint16_t ceiling = drive_ceiling(sample->selector);
    drive_push push;

    state->age_ms = added(state->age_ms, elapsed_ms);
    if (state->age_ms > DRIVE_LATE_MS) {
        halt(state, DRIVE_WAITING);
    }
    if (ceiling < state->ceiling) {
        state->ceiling = ceiling;
    }
    if (!sample->fresh) {
        return;
    }
    if (!drive_is_possible(sample->x, sample->y)) {
        halt(state, DRIVE_LATCHED);
        return;
    }
    state->age_ms = 0;
    drive_read_push(sample->x, sample->y, &push);
    if (push.at_rest) {
        state->ceiling = ceiling; /* a faster ceiling waits for rest, so that nothing speeds up under a held stick */
    }
    if (state->stage == DRIVE_ARMED) {
        state->turn = moved(state->turn, push.turn, frame_is_over);
        state->drive = moved(state->drive, push.drive, frame_is_over);
    } else {
        wait_for_rest(state, push.at_rest, elapsed_ms);
    }
}

static int32_t whole(int32_t fine)
{
    return with_sign((size_of(fine) + (UINT32_C(1) << (FINE_BITS - 1))) >> FINE_BITS, fine < 0);
}

void drive_step(drive_state *state, const drive_sample *sample, uint16_t elapsed_ms, drive_pulses *pulses)
{
    if (state->stage != DRIVE_LATCHED) {
        follow(state, sample, elapsed_ms);
    }
    drive_set_pulses(whole(state->turn), whole(state->drive), state->ceiling, pulses);
}

uint32_t drive_digest(void)
{
    return DRIVE_DIGEST;
}

void drive_tell_digest(void (*put)(char sign))
{
    uint8_t place;
    uint8_t digit;

    for (place = 0; place < 8; place++) {
        if (place == 4) {
            put('-');
        }
        digit = (uint8_t)((drive_digest() >> (28 - 4 * place)) & 15);
        put((char)(digit < 10 ? '0' + digit : 'A' + digit - 10));
    }
}
