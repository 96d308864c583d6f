namespace PostPipeline.Studies;

/// <summary>Something that the rehearsal says would break, and the setting that mends it.</summary>
/// <param name="Name">A short name.</param>
/// <param name="Fails">Whether it fails (true) or is not known (false).</param>
/// <param name="Camera">The camera; empty for several.</param>
/// <param name="Takes">Takes concerned.</param>
/// <param name="Events">Events of the synthetic cut concerned.</param>
/// <param name="Description">What would happen.</param>
/// <param name="Remedy">What mends it.</param>
/// <param name="FirstDay">First day of the shoot on which it would happen, from 0; −1 where it is not bound to a day.</param>
public sealed record RehearsalNote(string Name, bool Fails, string Camera, long Takes, int Events, string Description, string Remedy, int FirstDay = -1);
