using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.Json;

namespace Leadwright.Benchmarks;

/// <summary>Many browsers on one host: how long each answer takes, and whether any fails.</summary>
/// <remarks>Usage: clients URL [--count N] [--seconds S] [--write FILE]. The host runs apart (<c>leadwright serve --demo</c>). Each client loads the page, lists the surveys, and then
/// goes through the first survey as its screens do: guard, mend, study, charts of changing spans and widths, vectors.</remarks>
internal static class ClientCrowd
{
    private static readonly TimeSpan s_wait = TimeSpan.FromMilliseconds(200);

    public static async Task<int> RunAsync(string[] args)
    {
        var root = new Uri(args[0]);
        var count = int.Parse(Option(args, "--count") ?? "50", CultureInfo.InvariantCulture);
        var seconds = double.Parse(Option(args, "--seconds") ?? "60", CultureInfo.InvariantCulture);
        var times = new ConcurrentDictionary<string, ConcurrentBag<double>>();
        var failures = new ConcurrentBag<string>();
        var until = Stopwatch.StartNew();
        await Task.WhenAll(Enumerable.Range(0, count).Select(client => Task.Run(() => VisitAsync(root, client, () => until.Elapsed.TotalSeconds < seconds, times, failures))));
        var took = until.Elapsed.TotalSeconds;
        var text = new StringWriter(CultureInfo.InvariantCulture);
        text.WriteLine("| asked for | answers | median ms | 95 of 100 within ms | slowest ms |");
        text.WriteLine("| --- | --- | --- | --- | --- |");
        foreach (var (what, bag) in times.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            double[] sorted = [.. bag.Order()];
            text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {what} | {sorted.Length} | {sorted[sorted.Length / 2]:0} | {sorted[(int)(0.95 * (sorted.Length - 1))]:0} | {sorted[^1]:0} |"));
        }

        text.WriteLine();
        text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count} clients, {took:0} s, {times.Values.Sum(bag => bag.Count) / took:0} answers a second, {failures.Count} failed."));
        foreach (var failure in failures.Distinct().Take(5)) text.WriteLine($"- {failure}");
        Console.Write(text);
        if (Option(args, "--write") is { } path) await File.WriteAllTextAsync(path, text.ToString());
        return failures.IsEmpty ? 0 : 1;
    }

    private static async Task VisitAsync(
        Uri root, int client, Func<bool> goesOn, ConcurrentDictionary<string, ConcurrentBag<double>> times, ConcurrentBag<string> failures)
    {
        using var http = new HttpClient { BaseAddress = root, Timeout = TimeSpan.FromMinutes(5) };
        var random = new Random(client);
        await GetAsync("the page", "");
        while (goesOn())
        {
            var list = await GetAsync("list of surveys", "api/surveys");
            if (list is null) return;
            using var surveys = JsonDocument.Parse(list);
            var id = surveys.RootElement[0].GetProperty("id").GetString()!;
            foreach (var page in (string[])["guard", "mend", "study"]) await GetAsync(page, $"api/surveys/{id}/{page}");
            if (await GetAsync("columns", $"api/surveys/{id}/columns") is not { } columns) return;
            using var known = JsonDocument.Parse(columns);
            string[] names = [.. known.RootElement.EnumerateArray().Select(column => column.GetProperty("name").GetString()!)];
            for (var zoom = 0; zoom < 20 && goesOn(); zoom++)
            {
                var wanted = string.Join(',', Enumerable.Range(0, 3).Select(_ => names[random.Next(names.Length)]).Distinct().Select(Uri.EscapeDataString));
                var from = random.NextDouble() * 500_000;
                var span = Math.Pow(10, 3 + (2.5 * random.NextDouble()));
                await GetAsync("chart", string.Create(CultureInfo.InvariantCulture, $"api/surveys/{id}/columns?names={wanted}&from={from:0}&to={from + span:0}&width={random.Next(300, 2000)}"));
                if (zoom % 5 == 0) await GetAsync("vectors", string.Create(CultureInfo.InvariantCulture, $"api/surveys/{id}/vectors?at={from:0}"));
            }
        }

        async Task<byte[]?> GetAsync(string what, string address)
        {
            var clock = Stopwatch.StartNew();
            try
            {
                while (true)
                {
                    using var response = await http.GetAsync(new Uri(address, UriKind.Relative));
                    var body = await response.Content.ReadAsByteArrayAsync();
                    if (response.StatusCode == HttpStatusCode.Accepted)
                    {
                        await Task.Delay(s_wait);
                        continue;
                    }

                    if (!response.IsSuccessStatusCode)
                    {
                        failures.Add($"{what}: {(int)response.StatusCode} {address}");
                        return null;
                    }

                    times.GetOrAdd(what, _ => []).Add(clock.Elapsed.TotalMilliseconds);
                    return body;
                }
            }
            catch (Exception problem) when (problem is HttpRequestException or TaskCanceledException)
            {
                failures.Add($"{what}: {problem.Message}");
                return null;
            }
        }
    }

    private static string? Option(string[] args, string name) =>
        Array.IndexOf(args, name) is >= 0 and var at && at + 1 < args.Length ? args[at + 1] : null;
}
