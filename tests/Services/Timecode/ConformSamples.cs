using System.Text;

namespace PostPipeline.Services.Tests.Timecode;

/// <summary>A cut of two events and an inventory that holds one of them.</summary>
internal static class ConformSamples
{
    public const string List = """
        TITLE: TWO REELS
        FCM: NON-DROP FRAME
        001  A001     V     C        10:00:05:00 10:00:07:00 01:00:00:00 01:00:02:00
        * FROM CLIP NAME: A001C001
        002  A009     V     C        10:00:05:00 10:00:07:00 01:00:02:00 01:00:04:00
        * FROM CLIP NAME: A009C001
        """;

    public const string Inventory = "name,reel,start,frames,rate,bytes,medium,trimmable\nA001C001,A001,10:00:00:00,480,24,4800,T1,yes\n";

    public static MemoryStream Bytes(string text) => new(Encoding.UTF8.GetBytes(text));
}
