/* From the readings of a stick to the pulses of two motor controllers.
 *
 * C99, whole numbers only, no heap, no library but stdint.h. Correct whatever the width of int.
 * The numbers of one cart stand in drive_settings.h, which is made from the record and never edited.
 * Read README.txt before the first run.
 */
#ifndef DRIVE_CORE_H
#define DRIVE_CORE_H

#include <stdint.h>

#define DRIVE_CORE_VERSION 1

/* What the drive is doing: drive_state.stage. */
#define DRIVE_WAITING 0 /* neutral until the stick has been at rest for long enough */
#define DRIVE_ARMED 1   /* follows the stick */
#define DRIVE_LATCHED 2 /* a stick wire is broken: neutral until power is cycled */

/* The selector's position when none is fitted or it cannot be read: gives the slowest ceiling. */
#define DRIVE_NO_POSITION 255

typedef struct {
    uint16_t x;       /* readings of the stick, as the converter gives them */
    uint16_t y;
    uint8_t selector; /* 0 for the first position, or DRIVE_NO_POSITION */
    uint8_t fresh;    /* 1: x and y were read since the last step; 0: no new reading */
} drive_sample;

typedef struct {
    uint16_t left_us;
    uint16_t right_us;
} drive_pulses;

typedef struct {
    int32_t turn;       /* axis commands as they are now; full is 2^15 */
    int32_t drive;
    uint16_t age_ms;    /* since the last fresh reading */
    uint16_t rest_ms;   /* how long the stick has been at rest */
    uint16_t credit_ms; /* time not yet used up by frames */
    uint16_t ceiling;   /* in use; full is 2^15 */
    uint8_t stage;
    uint8_t resting;    /* the last fresh reading was at rest */
} drive_state;

/* A push of the stick as commands of its two axes; full is 2^15. */
typedef struct {
    int32_t turn;  /* right is positive */
    int32_t drive; /* forward is positive */
    uint8_t at_rest;
} drive_push;

/* Once, at power-on, and never again while power is on: it forgets a latched fault. */
void drive_start(drive_state *state);

/* Once a frame. elapsed_ms: since the step before, 65535 for anything longer. */
void drive_step(drive_state *state, const drive_sample *sample, uint16_t elapsed_ms, drive_pulses *pulses);

/* The digest of the settings, and the same in letters, like 4F3A-9C21, sign by sign. */
uint32_t drive_digest(void);
void drive_tell_digest(void (*put)(char sign));

/* The parts of a step, for tests and for looking into it. */
uint8_t drive_is_possible(uint16_t x, uint16_t y);
/* Only for readings that the converter can give: a step looks first whether they are possible. */
void drive_read_push(uint16_t x, uint16_t y, drive_push *push);
uint16_t drive_ceiling(uint8_t selector);
void drive_set_pulses(int32_t turn, int32_t drive, uint16_t ceiling, drive_pulses *pulses);

#endif
