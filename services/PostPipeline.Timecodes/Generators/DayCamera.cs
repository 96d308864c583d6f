using PostPipeline.Quantities;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Generators;

/// <summary>One camera of a shooting day, as far as its labels and names are concerned.</summary>
/// <param name="Letter">What its reels begin with: capitals, digits and underscores; no two cameras may share it.</param>
/// <param name="Base">What its labels count.</param>
/// <param name="Run">When its counter counts.</param>
/// <param name="Labelling">What it does off speed; must be known.</param>
/// <param name="RecordRunStart">The first label of record run (and of forced record run), in the base format.</param>
/// <param name="HourPerReel">Whether record run starts each further reel one label hour later, rather than counting on.</param>
/// <param name="FirstReel">Number of the first reel, 1 or more.</param>
/// <param name="FramesPerReel">Frames that a reel holds; 0 where it never fills.</param>
/// <param name="JamSeconds">When its free-running counter was first set to the clock, in seconds from midnight.</param>
/// <param name="JamEverySeconds">After how many seconds it is set again, and again; 0 for never.</param>
/// <param name="ClockPartsPerBillion">How much its counter runs fast; negative for slow.</param>
public sealed record DayCamera(
    string Letter,
    TimecodeFormat Base,
    TimecodeRun Run,
    OffSpeedLabelling Labelling,
    Timecode RecordRunStart,
    bool HourPerReel = false,
    int FirstReel = 1,
    long FramesPerReel = 0,
    long JamSeconds = 0,
    long JamEverySeconds = 0,
    long ClockPartsPerBillion = 0)
{
    /// <summary>The largest error of a clock, fast or slow, in parts per billion.</summary>
    public const long MaximumPartsPerBillion = 1_000_000_000;

    private const long Billion = 1_000_000_000;

    /// <summary>
    /// What the free-running counter shows at an instant. It was set to the clock's label at the last sync, and has counted
    /// frames since; at 30000/1001 non-drop it therefore lags the clock more and more. A sync at an instant whose label is
    /// dropped sets the next label that exists.
    /// </summary>
    /// <param name="secondsFromMidnight">An instant, not before <see cref="JamSeconds"/>.</param>
    public Timecode FreeRunLabel(Rational secondsFromMidnight)
    {
        Rational since = secondsFromMidnight - JamSeconds;
        if (since.Sign < 0)
        {
            throw new ArgumentOutOfRangeException(
                nameof(secondsFromMidnight), secondsFromMidnight, $"The instant {secondsFromMidnight} s lies before the sync at {JamSeconds} s from midnight.");
        }

        long jam = JamSeconds;
        if (JamEverySeconds > 0)
        {
            jam += (since / JamEverySeconds).Floor() * JamEverySeconds;
            since = secondsFromMidnight - jam;
        }

        // 128 bits: seconds in milliseconds × a rate over 1001 × parts per billion does not fit 64.
        Int128 frames = (Int128)since.Numerator * Base.Rate.Numerator * (Billion + ClockPartsPerBillion)
            / ((Int128)since.Denominator * Base.Rate.Denominator * Billion);
        long seconds = jam % 86_400;
        LabelFields jammed = new((int)(seconds / 3600), (int)(seconds / 60 % 60), (int)(seconds % 60), 0);
        return Timecode.FromFields(jammed, Base, DroppedLabels.SnapForward) + checked((long)frames);
    }
}
