using PostPipeline.Quantities;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Generators;

/// <summary>
/// Reels, clip names and labels that cameras give the takes of one or several days, in free run or record run. No
/// chance in it: the same takes always make the same clips.
/// </summary>
public static class ShootingDay
{
    private const long SecondsPerDay = 86_400;

    /// <summary>Labels the takes.</summary>
    /// <param name="cameras">The cameras, their letters all different.</param>
    /// <param name="takes">The takes, each camera's in order of time and without overlap.</param>
    /// <param name="playback">The rate at which everything is played.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The clips in the order of the takes.</returns>
    /// <exception cref="ArgumentException">The cameras or takes contradict this; the message says where.</exception>
    public static IReadOnlyList<DayClip> Label(
        IReadOnlyList<DayCamera> cameras, IReadOnlyList<DayTake> takes, FrameRate playback, CancellationToken cancellation = default)
    {
        Counter[] counters = [.. cameras.Select((camera, place) => new Counter(camera, place, playback))];
        if (cameras.Select(c => c.Letter).Distinct(StringComparer.OrdinalIgnoreCase).Count() < cameras.Count)
        {
            throw new ArgumentException("Two cameras have the same letter; without regard to case, every letter must differ.", nameof(cameras));
        }

        List<DayClip> clips = new(takes.Count);
        for (int i = 0; i < takes.Count; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            if (takes[i].Camera < 0 || takes[i].Camera >= cameras.Count)
            {
                throw new ArgumentException($"Take {i} is of camera {takes[i].Camera}; there are {cameras.Count} cameras, counted from 0.", nameof(takes));
            }

            counters[takes[i].Camera].Record(i, takes[i], clips);
        }

        return clips;
    }

    /// <summary>What one camera remembers between takes.</summary>
    private sealed class Counter
    {
        private readonly DayCamera camera;
        private readonly int place;
        private readonly FrameRate playback;
        private int reel;
        private int clip;
        private long framesOnReel;
        private Timecode recordRun;
        private Rational busyUntil = Rational.Zero;

        public Counter(DayCamera camera, int place, FrameRate playback)
        {
            this.camera = camera;
            this.place = place;
            this.playback = playback;
            if (camera.Letter.Length is 0 or > 16 || camera.Letter.Any(c => c is not ((>= 'A' and <= 'Z') or (>= '0' and <= '9') or '_')))
            {
                throw new ArgumentException($"Camera {place} has the letter '{camera.Letter}'; allowed are 1 to 16 capitals, digits and underscores.");
            }

            if (!camera.RecordRunStart.Format.Equals(camera.Base))
            {
                throw new ArgumentException($"Camera {camera.Letter} starts record run at {camera.RecordRunStart.Format}, but its base is {camera.Base}.");
            }

            reel = Guard.InRange(camera.FirstReel, 1, 1_000_000);
            Guard.InRange(camera.FramesPerReel, 0, TimecodeRange.MaximumFrames);
            Guard.InRange(camera.JamSeconds, 0, 366 * SecondsPerDay);
            Guard.InRange(camera.JamEverySeconds, 0, 366 * SecondsPerDay);
            Guard.InRange(camera.ClockPartsPerBillion, 1 - DayCamera.MaximumPartsPerBillion, DayCamera.MaximumPartsPerBillion);
            recordRun = camera.RecordRunStart;
        }

        public void Record(int number, DayTake take, List<DayClip> clips)
        {
            if (take.StartSeconds < busyUntil)
            {
                throw new ArgumentException($"Take {number} of camera {camera.Letter} starts at {take.StartSeconds} s, before its last take ends at {busyUntil} s.");
            }

            long left = Guard.InRange(take.FrameCount, 1, TimecodeRange.MaximumFrames);
            Rational start = take.StartSeconds;
            ClipRates rates = new(take.Sensor, camera.Base, playback);
            while (left > 0)
            {
                long fits = left;
                if (camera.FramesPerReel > 0)
                {
                    // A take that fits on no reel is cut where the reel is full; one that fits on a new reel gets a new one.
                    if (framesOnReel > 0 && left > camera.FramesPerReel - framesOnReel)
                    {
                        NextReel();
                    }

                    fits = Math.Min(left, camera.FramesPerReel);
                }

                clip++;
                string reelName = $"{camera.Letter}{reel:00}";
                LabelledClip labelled = Labelled(rates, start, fits);
                clips.Add(new(number, place, reelName, $"{reelName}_{clip:0000}", (int)(start / SecondsPerDay).Floor(), start, labelled));
                framesOnReel += fits;
                left -= fits;
                start += take.Sensor.SecondsFor(fits);
            }

            busyUntil = start;
        }

        private LabelledClip Labelled(ClipRates rates, Rational start, long frames)
        {
            OffSpeedLabelling labelling = rates.IsOffSpeed ? camera.Labelling : OffSpeedLabelling.PerFrame;
            if (camera.Run == TimecodeRun.Free && labelling != OffSpeedLabelling.RecordRunForced)
            {
                return LabelledClip.From(rates, labelling, camera.FreeRunLabel(start), frames);
            }

            LabelledClip clipLabels = LabelledClip.From(rates, labelling, recordRun, frames);
            recordRun += clipLabels.Labels?.FrameCount ?? 0;
            return clipLabels;
        }

        private void NextReel()
        {
            reel++;
            clip = 0;
            framesOnReel = 0;
            if (camera.HourPerReel)
            {
                recordRun = camera.RecordRunStart + ((reel - camera.FirstReel) * camera.Base.FramesPerHour);
            }
        }
    }
}
