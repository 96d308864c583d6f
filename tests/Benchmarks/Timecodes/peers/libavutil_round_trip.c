/* Frame index -> string -> frame index at 30000/1001 drop-frame through libavutil.
   Prints the median of nine runs in nanoseconds a round trip, the sum of the indexes, and a hash of all labels
   (32-bit FNV-1a over their characters), for comparison with other libraries. */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <libavutil/timecode.h>

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

int main(int argc, char **argv)
{
    const int day = 2589408, runs = 9;
    const AVRational rate = {30000, 1001};
    int labels, stride;
    double times[9];
    long long sum = 0;
    unsigned int hash = 2166136261u;
    AVTimecode from, to;
    char text[AV_TIMECODE_STR_SIZE];

    if (argc < 3)
        return 2;
    labels = atoi(argv[1]);
    stride = atoi(argv[2]);
    if (av_timecode_init(&from, rate, AV_TIMECODE_FLAG_DROPFRAME | AV_TIMECODE_FLAG_24HOURSMAX, 0, NULL) < 0)
        return 1;
    for (int run = -1; run < runs; run++) {
        struct timespec start, end;
        int index = 0;
        sum = 0;
        clock_gettime(CLOCK_MONOTONIC, &start);
        for (int i = 0; i < labels; i++) {
            av_timecode_make_string(&from, text, index);
            if (av_timecode_init_from_string(&to, rate, text, NULL) < 0)
                return 1;
            sum += to.start;
            index += stride;
            if (index >= day)
                index -= day;
        }
        clock_gettime(CLOCK_MONOTONIC, &end);
        if (run >= 0)
            times[run] = ((end.tv_sec - start.tv_sec) * 1e9 + (end.tv_nsec - start.tv_nsec)) / labels;
    }
    for (int i = 0, index = 0; i < labels; i++) {
        av_timecode_make_string(&from, text, index);
        for (const char *c = text; *c; c++)
            hash = (hash ^ (unsigned char)*c) * 16777619u;
        index += stride;
        if (index >= day)
            index -= day;
    }
    qsort(times, runs, sizeof times[0], by_value);
    printf("%.2f %lld %u\n", times[runs / 2], sum, hash);
    return 0;
}
