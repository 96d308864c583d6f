using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Offloads;
using PostPipeline.Footage.Service.Shared;

namespace PostPipeline.Footage.Service.Offload;

/// <summary>Reads loops of cards and writes how many cards they need.</summary>
internal static class CardLoopAnswers
{
    public static CardCount? Answer(CardLoop item, ItemProblems problems, bool explain)
    {
        problems.Label(item.Label);
        problems.InRange("cameras", item.Cameras, 1, 1000);
        problems.InRange("stations", item.Stations, 1, Offloads.OffloadMeans.MaximumStations);
        problems.InRange("card_seconds", item.CardSeconds, 1e-3, 1e9);
        problems.InRange("duty", item.Duty, 1e-9, 1);
        problems.InRange("station_seconds", item.StationSeconds, 0, 1e9);
        problems.InRange("other_seconds", item.OtherSeconds, 0, 1e9);
        problems.InRange("spare_cards", item.SpareCards, 0, 1000);
        if (!problems.None)
        {
            return null;
        }

        TurnRoundLoop loop = TurnRoundLoop.Of(item.Cameras, item.Stations, item.CardSeconds, item.Duty, item.StationSeconds, item.OtherSeconds, item.SpareCards);
        return new()
        {
            StationLoad = loop.StationLoad,
            NeverCatchesUp = loop.NeverCatchesUp,
            CardsPerCamera = loop.NeverCatchesUp ? 0 : loop.CardsPerCamera,
            Derivation = explain
                ? Wire.Of(LoopExplanation.Of(loop, item.Cameras, item.Stations, item.CardSeconds, item.Duty, item.StationSeconds, item.OtherSeconds, item.SpareCards))
                : null,
        };
    }
}
