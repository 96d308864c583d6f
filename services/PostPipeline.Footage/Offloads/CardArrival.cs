namespace PostPipeline.Footage.Offloads;

/// <summary>A card that has left its camera.</summary>
/// <param name="Camera">Which camera, from 0.</param>
/// <param name="PulledMicroseconds">When, on the simulation's clock.</param>
/// <param name="Bytes">Bytes on it.</param>
/// <param name="Files">Files on it.</param>
public readonly record struct CardArrival(int Camera, long PulledMicroseconds, long Bytes, long Files);
