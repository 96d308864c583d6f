using System.Collections.Immutable;
using System.Text;
using CsCheck;
using PostPipeline.Quantities;
using PostPipeline.Testing;
using PostPipeline.Timecodes.EditLists;
using Xunit;

namespace PostPipeline.Domain.Tests.Timecodes.EditLists;

/// <summary>Properties: what is written reads back with the same meaning; no bytes bring the reader down.</summary>
public class EditListPropertyTests
{
    private static readonly long Count = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1" ? 1_000_000 : 10_000;

    private static readonly byte[][] Seeds =
    [
        """
        TITLE: A LIST OF OUR OWN
        FCM: DROP FRAME
        001  A001     V     C        01:00:00;00 01:00:01;00 00:00:00;00 00:00:01;00
        * FROM CLIP NAME: A001_C002
        * LOC: 00:00:00;12 RED     LOOK HERE
        FCM: NON-DROP FRAME
        002  A001     V     C        01:00:01:00 01:00:01:00 00:00:01:00 00:00:01:00
        002  A002     V     D    024 02:00:00:00 02:00:02:00 00:00:01:00 00:00:03:00
        M2   A002           048.0       02:00:00:00
        * FROM CLIP NAME: A001_C002
        * TO CLIP NAME: A002_C001
        003  BL       A2/V  W012 010 03:00:00:00 03:00:01:00 00:00:03:00 00:00:04:00
        """u8.ToArray(),
    ];

    [Fact]
    public void Write_AnyList_ReadsBackWithTheSameMeaning() =>
        AnyList.Sample(list =>
        {
            byte[] written = EditListWriter.ToUtf8(list);
            EditListReading reading = EditListReader.Read(written);
            return reading.Problems.IsEmpty && list.MeansSameAs(reading.List);
        }, iter: Count / 10);

    [Fact]
    public void Read_RandomBytes_GivesAResultOrAPlace() =>
        Gen.Byte.Array[0, 300].Sample(AnswersSensibly, iter: Count);

    [Fact]
    public void Read_RandomBytesOfTheLanguage_GivesAResultOrAPlace() =>
        Gen.OneOf("0129:;., \t\r\nCDWKBOMVAF*TILERN-()\u00e9"u8.ToArray()).Array[0, 200].Sample(AnswersSensibly, iter: Count);

    [Fact]
    public void Read_MutatedList_GivesAResultOrAPlace()
    {
        List<byte[]> seeds = [.. Seeds];
        string? folder = Environment.GetEnvironmentVariable(Outside.Variable);
        if (folder is not null && Directory.Exists(Path.Combine(folder, "edit_lists")))
        {
            seeds.AddRange(Directory.GetFiles(Path.Combine(folder, "edit_lists"), "*.edl").Select(File.ReadAllBytes));
        }

        Mutations.Of(seeds).Sample(AnswersSensibly, iter: Count);
    }

    private static bool AnswersSensibly(byte[] bytes)
    {
        EditListReading reading = EditListReader.Read(bytes, new() { Strict = (bytes.Length & 1) == 0 });
        bool placed = reading.Problems.All(p => p.Line >= 1 && p.Column >= 1 && p.Message.Length > 0);
        byte[] written = EditListWriter.ToUtf8(reading.List);
        return placed && reading.List.MeansSameAs(EditListReader.Read(written).List);
    }

    private static readonly Gen<string> Word = Gen.OneOf("ABCXYZ0189_-.".ToCharArray()).Array[1, 12].Select(c => new string(c));

    private static readonly Gen<EditLabel> Label =
        Gen.Select(Gen.Int[0, 23], Gen.Int[0, 59], Gen.Int[0, 59], Gen.Int[0, 119], Gen.Bool, (h, m, s, f, drop) => new EditLabel(h, m, s, f, drop));

    private static readonly Gen<EditTransition> Transition =
        Gen.Select(Gen.Enum<TransitionKind>(), Gen.Int[0, 999], Gen.Int[0, 1999], Gen.Bool, (kind, code, duration, fade) =>
            kind == TransitionKind.Cut
                ? EditTransition.Cut
                : new EditTransition(kind, kind == TransitionKind.Wipe ? code : 0, duration, fade));

    private static readonly Gen<EditComment> Comment =
        Gen.Select(Gen.OneOf("FROM CLIP NAME: ", "TO CLIP NAME: ", "KEY CLIP NAME: ", "SOURCE FILE: ", "LOC: ", string.Empty), Word, (key, word) =>
            new EditComment(
                key switch
                {
                    "FROM CLIP NAME: " => CommentKind.FromClipName,
                    "TO CLIP NAME: " => CommentKind.ToClipName,
                    "KEY CLIP NAME: " => CommentKind.KeyClipName,
                    "SOURCE FILE: " => CommentKind.SourceFile,
                    "LOC: " => CommentKind.Marker,
                    _ => CommentKind.Remark,
                },
                true,
                key + word));

    private static readonly Gen<EditEvent> Event =
        Gen.Select(Gen.Int[1, 999], Word, Gen.OneOf("V", "A", "A2/V", "B", "NONE"), Transition, Label.Array[4], Gen.Int[1, 2], Gen.Int[-99_999, 99_999], Comment.Array[0, 3])
            .Select(t => new EditEvent(
                0, $"{t.Item1:D3}", t.Item2, t.Item3, t.Item4, t.Item5[0], t.Item5[1], t.Item5[2], t.Item5[3], (FrameCodeMode)t.Item6,
                t.Item7 % 3 == 0 ? [new(t.Item2, new Rational(t.Item7, 1000), t.Item5[0])] : [],
                [.. t.Item8]));

    private static readonly Gen<EditList> AnyList =
        Gen.Select(Word.Null(), Comment.Array[0, 2], Event.Array[0, 8], (title, preamble, events) =>
            new EditList(title, [.. preamble], events.Length == 0 ? [] : [.. events.Select((e, i) => e with { Number = $"{i:D3}" })]));
}
