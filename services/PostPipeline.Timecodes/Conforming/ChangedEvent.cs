namespace PostPipeline.Timecodes.Conforming;

/// <summary>One event of the old cut, the new cut, or both.</summary>
/// <param name="Change">What became of it.</param>
/// <param name="OldEvent">Its place in the old cut, from 0, or −1.</param>
/// <param name="NewEvent">Its place in the new cut, from 0, or −1.</param>
/// <param name="RecordShift">By how many frames it begins later on the record side; negative where earlier.</param>
/// <param name="KeepsOrder">Whether it keeps its order among the events that both cuts have: a shift that follows from an insertion does.</param>
/// <param name="HeadFrames">Source frames that it begins later; negative where earlier.</param>
/// <param name="TailFrames">Source frames that it ends later; negative where earlier.</param>
/// <param name="TransitionChanged">Whether its transition is another one.</param>
/// <param name="FramesToRender">Record frames whose picture the old cut does not have.</param>
public readonly record struct ChangedEvent(
    CutChange Change,
    int OldEvent,
    int NewEvent,
    long RecordShift,
    bool KeepsOrder,
    long HeadFrames,
    long TailFrames,
    bool TransitionChanged,
    long FramesToRender);
