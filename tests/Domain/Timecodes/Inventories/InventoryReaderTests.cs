using System.Collections.Immutable;
using System.Text;
using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Timecodes;
using PostPipeline.Timecodes.Conforming;
using PostPipeline.Timecodes.Inventories;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.Inventories;

public class InventoryReaderTests
{
    private static readonly int Count = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 1_000_000 : 10_000;

    private static readonly byte[] Sample = """
        name,reel,start,frames,rate,kind,camera,date,bytes,medium,trimmable,sensor_rate,width,height,take,chunk,chunks,shade
        A001_C001,A001,10:00:00:00,240,24,original,A,2031-05-02,1061683200,T1,yes,96,4096,2160,,,,blue
        "A001,C002",A001,10:00:30:00,480,24000/1001,proxy,A,,,,no,,,,,,,
        B001_C001_001,B001,01:00:00;00,100,30000/1001,,B,2031-05-02,5,T2,unknown,,,,B001_C001,1,2,
        B001_C001_002,B001,01:00:03;10,50,30000/1001,,B,2031-05-02,5,T2,,,,,B001_C001,2,2,
        """u8.ToArray();

    [Fact]
    public void Read_DocumentedHeader_TakesEveryColumn()
    {
        InventoryReading reading = InventoryReader.Read(Sample);
        Assert.Empty(reading.Problems);
        Assert.Equal(4, reading.Rows);
        Assert.Equal(["shade"], reading.UnmappedHeaders.AsEnumerable());
        Clip clip = reading.Inventory[0];
        Assert.Equal(("A001_C001", "A001", 864_000L, 240L), (clip.Name, clip.Reel, clip.Start!.Value, clip.Frames));
        Assert.Equal((ClipKind.Original, "A", new DateOnly(2031, 5, 2), 1_061_683_200L), (clip.Kind, clip.Camera, clip.Date!.Value, clip.Bytes!.Value));
        Assert.Equal(("T1", Trimmability.Yes, FrameRate.From(96, 1), Raster.From(4096, 2160)), (clip.Medium, clip.Trimmable, clip.SensorRate!.Value, clip.Raster!.Value));
        Clip quoted = reading.Inventory[1];
        Assert.Equal(("A001,C002", ClipKind.Proxy, FrameRate.Fps24000Over1001, false), (quoted.Name, quoted.Kind, quoted.Format.Rate, quoted.Format.DropFrame));
        ChunkedTake take = Assert.Single(reading.Inventory.Takes);
        Assert.Equal(("B001_C001", 150L), (reading.Inventory.NameOf(take.Row), reading.Inventory[take.Row].Frames));
        Assert.True(reading.Inventory[take.Row].Format.DropFrame);
        Assert.Empty(take.BrokenAfter);
    }

    [Fact]
    public void Read_ForeignHeaders_AreMappedWithConstantsAndWords()
    {
        InventoryMapping mapping = new()
        {
            Columns = ImmutableDictionary.CreateRange(StringComparer.OrdinalIgnoreCase, [KeyValuePair.Create("Clip", InventoryColumn.Name), KeyValuePair.Create("TC in", InventoryColumn.Start), KeyValuePair.Create("TC out", InventoryColumn.End), KeyValuePair.Create("Speed", InventoryColumn.Rate)]),
            Constants = ImmutableDictionary<InventoryColumn, string>.Empty.Add(InventoryColumn.Trimmable, "yes"),
            Words = ImmutableDictionary<InventoryColumn, ImmutableDictionary<string, string>>.Empty.Add(InventoryColumn.Rate, ImmutableDictionary<string, string>.Empty.Add("23.98", "24000/1001")),
        };
        InventoryReading reading = InventoryReader.Read("CLIP;TC in;TC out;Speed;Note\r\nX1;23:59:59:00;00:00:01:00;23.98;hello\r\n"u8, new() { Mapping = mapping });
        Assert.Empty(reading.Problems);
        Clip clip = reading.Inventory[0];
        Assert.Equal((48L, FrameRate.Fps24000Over1001, Trimmability.Yes), (clip.Frames, clip.Format.Rate, clip.Trimmable));
        Assert.Equal(["Note"], reading.UnmappedHeaders.AsEnumerable());
    }

    [Theory]
    [InlineData("name,frames,rate\nA,10,23.976", 2, 6, "rate", "24000/1001")]
    [InlineData("name,frames,rate\nA,0,24", 2, 3, "frames", "1 to 1000000000")]
    [InlineData("name,frames,rate,start\nA,10,25,00:00:00:25", 2, 9, "start", "0 to 24")]
    [InlineData("name,frames,rate,start\nA,10,25,00:00:00;00", 2, 9, "start", "drop-frame")]
    [InlineData("name,frames,rate,start\nA,10,30000/1001,00:01:00;00", 2, 17, "start", "dropped label")]
    [InlineData("name,frames,rate,kind\nA,10,24,film", 2, 9, "kind", "original, proxy, mezzanine")]
    [InlineData("name,frames,rate,date\nA,10,24,2031-02-29", 2, 9, "date", "YYYY-MM-DD")]
    [InlineData("name,rate\nA,24", 1, 1, "frames", "no column gives frames")]
    [InlineData("name,name,frames,rate\nA,A,1,24", 1, 6, "name", "two columns")]
    [InlineData("", 1, 1, "header", "empty")]
    public void Read_WrongCell_SaysLineColumnFieldAndWhatIsAllowed(string csv, int line, int column, string field, string says)
    {
        InventoryProblem problem = Assert.Single(InventoryReader.Read(Encoding.UTF8.GetBytes(csv)).Problems);
        Assert.Equal((line, column, field), (problem.Line, problem.Column, problem.Field));
        Assert.Contains(says, problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_TooManyRows_IsRefusedOnce()
    {
        InventoryReading reading = InventoryReader.Read("name,frames,rate\nA,1,24\nB,1,24\nC,1,24\nD,1,24\n"u8, new() { MaximumRows = 2 });
        Assert.Contains("more than 2 rows", Assert.Single(reading.Problems).Message, StringComparison.Ordinal);
        Assert.Equal((2, 4), (reading.Inventory.Count, reading.Rows));
    }

    [Fact]
    public void Append_AnyPieces_GiveTheSameInventory() => Gen.Int[1, 40].Array[1, 40].Sample(sizes =>
    {
        InventoryReader reader = new();
        int at = 0;
        foreach (int size in sizes.Concat(Enumerable.Repeat(50, 100)))
        {
            int length = Math.Min(size, Sample.Length - at);
            reader.Append(Sample.AsSpan(at, length));
            at += length;
        }

        InventoryReading one = reader.Finish();
        InventoryReading two = InventoryReader.Read(Sample);
        return one.Problems.IsEmpty && Enumerable.Range(0, 4).All(i => one.Inventory[i] == two.Inventory[i]);
    }, iter: 200);

    [Fact]
    public void Write_AnyClips_ReadBackTheSame() =>
        Gen.Select(Gen.String[1, 20].Where(s => s.Trim(' ', '\t').Length == s.Length && s.Length > 0 && Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(s)) == s), Gen.Int[0, 2_000_000], Gen.Int[1, 1_000_000], Gen.OneOf(0, 1, 2), Gen.OneOf(TimecodeFormat.Fps24, TimecodeFormat.Fps30000Over1001Drop))
            .Array[1, 5].Sample(rows =>
            {
                Clip[] clips = [.. rows.Select(r => new Clip { Name = r.Item1, Reel = "R", Start = r.Item2, Frames = r.Item3, Kind = (ClipKind)r.Item4, Format = r.Item5 })];
                InventoryReading reading = InventoryReader.Read(Encoding.UTF8.GetBytes(InventoryWriter.ToCsv(clips)));
                return reading.Problems.IsEmpty && clips.SequenceEqual(Enumerable.Range(0, reading.Inventory.Count).Select(i => reading.Inventory[i]));
            }, iter: 300);

    [Fact]
    public void Read_RandomBytes_GivesAResultOrAPlace() => Gen.Byte.Array[0, 300].Sample(AnswersSensibly, iter: Count);

    [Fact]
    public void Read_MutatedInventory_GivesAResultOrAPlace() => Mutations.Of([Sample]).Sample(AnswersSensibly, iter: Count);

    private static bool AnswersSensibly(byte[] bytes)
    {
        InventoryReading reading = InventoryReader.Read(bytes);
        for (int i = 0; i < reading.Inventory.Count; i++)
        {
            _ = reading.Inventory[i];
        }

        _ = ProxyPairing.Of(reading.Inventory);
        return reading.Problems.All(p => p.Line >= 1 && p.Column >= 1 && p.Message.Length > 0);
    }
}
