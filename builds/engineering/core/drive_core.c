/* From the readings of a stick to the pulses of two motor controllers. See drive_core.h and README.txt.
 *
 * Scales are powers of two: readings are brought to 15 bits, and a full command is 2^15. They are chosen so that most
 * products are of 16 by 16 bits and most shifts by whole bytes, which small controllers do fast. Sizes are shifted,
 * never signed values. No product passes 32 bits, with numbers of a drive_settings.h that passes its own check.
 */
#include "drive_core.h"
#include "drive_settings.h"

#if DRIVE_SETTINGS_VERSION != DRIVE_CORE_VERSION
#error "drive_settings.h was made for another version of the core: take both from one archive."
#endif
#if DRIVE_CHECK_COMPUTED != DRIVE_CHECK
#error "drive_settings.h was changed by hand: make it anew from the record."
#endif

#define POSITION_BITS 15
#define FULL_BITS 15
#define FULL (UINT32_C(1) << FULL_BITS)
#define HALF (UINT32_C(1) << (FULL_BITS - 1))
#define TURN_BITS 14
#define GAIN_BITS 16

static uint32_t size_of(int32_t value)
{
    return value < 0 ? (uint32_t)(-value) : (uint32_t)value;
}

static int32_t with_sign(uint32_t size, uint8_t negative)
{
    return negative ? -(int32_t)size : (int32_t)size;
}

static uint32_t product(uint16_t a, uint16_t b)
{
    return (uint32_t)a * (uint32_t)b;
}

/* A value on the scale of products of two commands, back on that of a command: 2 * 2^15 * 2^15 fits 32 bits. */
static uint16_t over_full(uint32_t value)
{
    return (uint16_t)((value << (16 - FULL_BITS)) >> 16);
}

static uint16_t added(uint16_t a, uint16_t b)
{
    const uint32_t sum = (uint32_t)a + (uint32_t)b;

    return sum > UINT16_MAX ? (uint16_t)UINT16_MAX : (uint16_t)sum;
}

static int16_t from_centre(uint16_t reading, int16_t centre)
{
#if DRIVE_ADC_BITS > POSITION_BITS
    return (int16_t)((int16_t)(reading >> (DRIVE_ADC_BITS - POSITION_BITS)) - centre);
#else
    return (int16_t)((int16_t)(reading << (POSITION_BITS - DRIVE_ADC_BITS)) - centre);
#endif
}

static uint16_t shaped(uint16_t command)
{
    const uint16_t cubed = over_full(product(over_full(product(command, command)), command));

    return over_full(product((uint16_t)(FULL - DRIVE_EXPO), command) + product(DRIVE_EXPO, cubed) + HALF);
}

/* Command of an axis that is pushed this far: nothing within the deadband, full from the throw on. */
static uint16_t command_of(uint16_t size, uint16_t throw_, uint32_t gain)
{
    if (size <= (uint16_t)DRIVE_DEADBAND) {
        return 0;
    }
    if (size >= throw_) {
        return (uint16_t)FULL;
    }
    size = (uint16_t)(size - DRIVE_DEADBAND);
    return shaped((uint16_t)(((uint32_t)size * gain + (UINT32_C(1) << (GAIN_BITS - 1))) >> GAIN_BITS));
}

static uint16_t turned_size(int32_t sum)
{
    return (uint16_t)(((size_of(sum) + (UINT32_C(1) << (TURN_BITS - 1))) << (16 - TURN_BITS)) >> 16);
}

uint8_t drive_is_possible(uint16_t x, uint16_t y)
{
    return x >= (uint16_t)DRIVE_BAND_LOW && x <= (uint16_t)DRIVE_BAND_HIGH && y >= (uint16_t)DRIVE_BAND_LOW
        && y <= (uint16_t)DRIVE_BAND_HIGH;
}

void drive_read_push(uint16_t x, uint16_t y, drive_push *push)
{
    const int16_t step_x = from_centre(x, DRIVE_CENTRE_X);
    const int16_t step_y = from_centre(y, DRIVE_CENTRE_Y);
    const int32_t right = (int32_t)step_x * DRIVE_RIGHT_FROM_X + (int32_t)step_y * DRIVE_RIGHT_FROM_Y;
    const int32_t forward = (int32_t)step_x * DRIVE_FORWARD_FROM_X + (int32_t)step_y * DRIVE_FORWARD_FROM_Y;
    const uint16_t aside = turned_size(right);
    const uint16_t along = turned_size(forward);
    uint16_t turn;
    uint16_t drive;

    if (right < 0) {
        turn = command_of(aside, DRIVE_THROW_LEFT, DRIVE_GAIN_LEFT);
    } else {
        turn = command_of(aside, DRIVE_THROW_RIGHT, DRIVE_GAIN_RIGHT);
    }
    if (forward < 0) {
        drive = over_full(product(command_of(along, DRIVE_THROW_BACK, DRIVE_GAIN_BACK), DRIVE_REVERSE_GAIN));
    } else {
        drive = command_of(along, DRIVE_THROW_FORWARD, DRIVE_GAIN_FORWARD);
    }
    push->turn = with_sign(over_full(product(turn, (uint16_t)DRIVE_TURN_GAIN)), right < 0);
    push->drive = with_sign(drive, forward < 0);
    push->at_rest = aside <= (uint16_t)DRIVE_DEADBAND && along <= (uint16_t)DRIVE_DEADBAND;
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
    const uint16_t under_ceiling = over_full(product((uint16_t)size, ceiling));
    const uint16_t span_us = over_full(product(under_ceiling, DRIVE_SPAN_US) + HALF);

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
 * axis, and from nothing when it has crossed to the other side: neither smoothing nor a slow fall delays a stop.
 * A fall makes up for every frame since the reading before; a rise takes one frame a step, however late it comes. */
static int32_t moved(int32_t now, int32_t target, uint8_t frames)
{
    const uint8_t negative = target < 0;
    const uint16_t to = (uint16_t)size_of(target);
    uint16_t from = (uint16_t)size_of(now);
    uint16_t gap;
    uint16_t most;
    uint16_t step;

    if (target == 0) {
        return 0;
    }
    if ((now < 0) != negative) {
        from = 0;
    }
    while (frames > 0 && from != to) {
        gap = (uint16_t)(from < to ? to - from : from - to);
        most = (uint16_t)(from < to ? DRIVE_RISE : DRIVE_FALL);
        step = (uint16_t)(((uint32_t)gap * (uint32_t)DRIVE_SMOOTHING + (UINT32_C(1) << 15)) >> 16);
        if (step == 0) {
            step = 1;
        }
        if (step > most) {
            step = most;
        }
        from = (uint16_t)(from < to ? from + step : from - step);
        frames = (uint8_t)(from > to ? frames - 1 : 0);
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

/* The frames since the reading before: few, since one that is later than DRIVE_LATE_MS halts and starts anew. */
static uint8_t take_frames(drive_state *state)
{
    uint8_t frames = 0;

    while (state->credit_ms >= DRIVE_FRAME_MS) {
        state->credit_ms = (uint16_t)(state->credit_ms - DRIVE_FRAME_MS);
        frames++;
    }
    return frames;
}

static void follow(drive_state *state, const drive_sample *sample, uint16_t elapsed_ms)
{
    const uint16_t ceiling = drive_ceiling(sample->selector);
    drive_push push;
    uint8_t frames;

    state->age_ms = added(state->age_ms, elapsed_ms);
    state->credit_ms = added(state->credit_ms, elapsed_ms);
    if (state->age_ms > DRIVE_LATE_MS) {
        halt(state, DRIVE_WAITING);
        state->credit_ms = 0;
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
    frames = take_frames(state);
    drive_read_push(sample->x, sample->y, &push);
    if (push.at_rest) {
        state->ceiling = ceiling; /* a faster ceiling waits for rest, so that nothing speeds up under a held stick */
    }
    if (state->stage == DRIVE_ARMED) {
        state->turn = moved(state->turn, push.turn, frames);
        state->drive = moved(state->drive, push.drive, frames);
    } else {
        wait_for_rest(state, push.at_rest, elapsed_ms);
    }
}

void drive_step(drive_state *state, const drive_sample *sample, uint16_t elapsed_ms, drive_pulses *pulses)
{
    if (state->stage != DRIVE_LATCHED) {
        follow(state, sample, elapsed_ms);
    }
    drive_set_pulses(state->turn, state->drive, state->ceiling, pulses);
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
