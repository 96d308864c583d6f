namespace PostPipeline.Services.Tests.CommandLine;

/// <summary>A clock that the test turns; timers fire in the turning, so nothing waits and nothing races.</summary>
internal sealed class TurnedClock : TimeProvider
{
    private readonly List<Alarm> alarms = [];
    private TimeSpan now;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override long GetTimestamp() => now.Ticks;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        Alarm alarm = new(this, () => callback(state), now + dueTime, period);
        alarms.Add(alarm);
        return alarm;
    }

    public void Turn(TimeSpan by)
    {
        TimeSpan until = now + by;
        while (alarms.Where(a => a.Next <= until).MinBy(a => a.Next) is Alarm alarm)
        {
            now = alarm.Next;
            alarm.Next += alarm.Period;
            alarm.Ring();
        }

        now = until;
    }

    private sealed class Alarm(TurnedClock clock, Action ring, TimeSpan next, TimeSpan period) : ITimer
    {
        public TimeSpan Next { get; set; } = next;

        public TimeSpan Period { get; private set; } = period;

        public Action Ring => ring;

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            (Next, Period) = (clock.now + dueTime, period);
            return true;
        }

        public void Dispose() => clock.alarms.Remove(this);

        public ValueTask DisposeAsync()
        {
            Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
