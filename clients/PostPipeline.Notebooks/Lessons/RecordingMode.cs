namespace PostPipeline.Notebooks.Lessons;

/// <summary>A way to record, as sliders give it. One value a photosite (raw).</summary>
/// <param name="Raster">Width × height, for example "4096 × 2160".</param>
/// <param name="BitDepth">Bits a photosite.</param>
/// <param name="Compression">The ratio against the uncompressed raw frame; 1 for none.</param>
/// <param name="SensorRate">Frames a second that the sensor makes.</param>
/// <param name="ProjectRate">Frames a second on screen.</param>
public sealed record RecordingMode(string Raster, int BitDepth, double Compression, double SensorRate, double ProjectRate)
{
    internal Contracts.Types.V1.Raster Wire
    {
        get
        {
            string[] sides = Raster.Split('×', StringSplitOptions.TrimEntries);
            return new()
            {
                Width = int.Parse(sides[0], System.Globalization.CultureInfo.InvariantCulture),
                Height = int.Parse(sides[1], System.Globalization.CultureInfo.InvariantCulture),
            };
        }
    }
}
