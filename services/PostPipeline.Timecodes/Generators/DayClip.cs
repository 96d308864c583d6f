using PostPipeline.Quantities;
using PostPipeline.Timecodes.OffSpeed;

namespace PostPipeline.Timecodes.Generators;

/// <summary>One clip that a shooting day made.</summary>
/// <param name="Take">Place of the take in the list, from 0; a take that filled a reel made more than one clip.</param>
/// <param name="Camera">Place of the camera in the list, from 0.</param>
/// <param name="Reel">The reel, for example <c>A07</c>.</param>
/// <param name="Name">The clip, for example <c>A07_0031</c>.</param>
/// <param name="Day">Days after the first, by the clip's start.</param>
/// <param name="StartSeconds">When the clip began, in seconds from midnight of the first day.</param>
/// <param name="Labelled">Its rates and labels.</param>
public sealed record DayClip(int Take, int Camera, string Reel, string Name, int Day, Rational StartSeconds, LabelledClip Labelled);
