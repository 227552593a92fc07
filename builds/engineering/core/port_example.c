/* A sketch of a port: the six functions declared here touch pins and clocks and are yours to write. */
#include "drive_core.h"
#include "drive_settings.h"

extern uint8_t read_stick(uint16_t *x, uint16_t *y); /* 1 with two new readings, 0 when there are none */
extern uint8_t read_selector(void);                  /* 0 for the first position, DRIVE_NO_POSITION for none */
extern uint32_t milliseconds(void);                  /* runs on from power-on, and round from its largest to 0 */
extern void write_pulses(uint16_t left_us, uint16_t right_us);
extern void print_sign(char sign);
extern void feed_watchdog(void);

int main(void)
{
    drive_state state;
    drive_sample sample = {0, 0, DRIVE_NO_POSITION, 0};
    drive_pulses pulses;
    uint32_t before = milliseconds();

    drive_start(&state);
    drive_tell_digest(print_sign);
    print_sign('\n');
    for (;;) {
        const uint32_t passed = milliseconds() - before;

        if (passed < DRIVE_FRAME_MS) {
            continue;
        }
        before += passed;
        sample.selector = read_selector();
        sample.fresh = read_stick(&sample.x, &sample.y);
        drive_step(&state, &sample, passed > UINT16_MAX ? (uint16_t)UINT16_MAX : (uint16_t)passed, &pulses);
        write_pulses(pulses.left_us, pulses.right_us);
        feed_watchdog();
    }
}
