namespace PostPipeline.Studies.Stages;

/// <summary>
/// One copy or derivative of the pictures: its bytes in a draw, its tier, the stage that writes it, who pays. It grows
/// evenly while its stage runs and lives until a named human deletes it, after a stage or after acceptance.
/// </summary>
/// <param name="Name">Its name.</param>
/// <param name="Tier">0 online, 1 nearline.</param>
/// <param name="Bytes">Bytes in a draw.</param>
/// <param name="Stage">Place of the stage that writes it.</param>
/// <param name="Payer">Who pays.</param>
/// <param name="GoneAfter">Place of the stage after which it may be deleted; −1 for acceptance and the time it is kept.</param>
internal sealed record Generation(string Name, int Tier, Func<Scope, double> Bytes, int Stage, string Payer, int GoneAfter = -1);
