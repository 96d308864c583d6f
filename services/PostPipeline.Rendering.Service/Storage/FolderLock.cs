using System.Globalization;
using PostPipeline.RenderTimes;

namespace PostPipeline.Rendering.Service.Storage;

/// <summary>
/// One writer at a time in a folder: an exclusive lock on a file, which the operating system gives back however
/// the process ends, and beside it the number of the process that holds it. Writers of one process share it.
/// </summary>
internal sealed class FolderLock(string folder, TimeSpan patience)
{
    private readonly Lock gate = new();
    private FileStream? held;
    private int users;

    /// <summary>Takes the lock, waiting a little for another process.</summary>
    /// <param name="firstIn">What to do once nobody else can be writing.</param>
    /// <exception cref="StoreInUseException">Another process kept it.</exception>
    public IDisposable Take(Action firstIn)
    {
        lock (gate)
        {
            if (users == 0)
            {
                held = Open();
                File.WriteAllText(Path.Combine(folder, "writer"), Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
                firstIn();
            }

            users++;
            return new Release(this);
        }
    }

    private FileStream Open()
    {
        string path = Path.Combine(folder, "lock");
        long deadline = Environment.TickCount64 + (long)patience.TotalMilliseconds;
        while (true)
        {
            try
            {
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException) when (File.Exists(path))
            {
                if (Environment.TickCount64 >= deadline)
                {
                    throw new StoreInUseException(Holder());
                }

                Thread.Sleep(25);
            }
        }
    }

    private int Holder()
    {
        string path = Path.Combine(folder, "writer");
        return File.Exists(path) && int.TryParse(File.ReadAllText(path), CultureInfo.InvariantCulture, out int id) ? id : 0;
    }

    private void Leave()
    {
        lock (gate)
        {
            users--;
            if (users == 0)
            {
                held?.Dispose();
                held = null;
            }
        }
    }

    private sealed class Release(FolderLock owner) : IDisposable
    {
        private int done;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref done, 1) == 0)
            {
                owner.Leave();
            }
        }
    }
}
