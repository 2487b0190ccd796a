using Leadwright.Client;
using Leadwright.Client.Devices;
using Leadwright.Client.Model;
using Leadwright.Client.Model.Shown;
using Leadwright.Client.Model.Waiting;
using Leadwright.Client.Surveys;
using Leadwright.Core.Hookups;
using Microsoft.AspNetCore.Components.WebAssembly.Hosting;

var builder = WebAssemblyHostBuilder.CreateDefault(args);
builder.RootComponents.Add<App>("#app");
builder.RootComponents.Add<Microsoft.AspNetCore.Components.Web.HeadOutlet>("head::after");
builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddSingleton<HookupJudge>(HookupCheck.Judge);
builder.Services.AddSingleton<IDevice, BrowserDevice>();
builder.Services.AddSingleton<ShownText>();
builder.Services.AddSingleton<HookupSheet>();
builder.Services.AddSingleton(new HttpClient { BaseAddress = new Uri(builder.HostEnvironment.BaseAddress), Timeout = Timeout.InfiniteTimeSpan });
builder.Services.AddSingleton<ISurveyApi, SurveyApi>();
builder.Services.AddSingleton<PracticeSheet>();
builder.Services.AddSingleton<PlanBoard>();
builder.Services.AddSingleton<WaitingShelf>();
var host = builder.Build();

// The first picture is in the person's own numbers already.
await host.Services.GetRequiredService<ShownText>().OpenAsync();
await host.RunAsync();
