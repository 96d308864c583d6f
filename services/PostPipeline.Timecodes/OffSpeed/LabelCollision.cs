namespace PostPipeline.Timecodes.OffSpeed;

/// <summary>Two takes of one reel that hold the same labels, so that a label no longer says which is meant.</summary>
/// <param name="First">Place of the earlier take in the list, from 0.</param>
/// <param name="Second">Place of the later take in the list.</param>
/// <param name="SharedLabels">How many labels both hold.</param>
/// <param name="FirstShared">The first shared label, in the order of the earlier take.</param>
public readonly record struct LabelCollision(int First, int Second, long SharedLabels, Timecode FirstShared);
