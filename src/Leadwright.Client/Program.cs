using Leadwright.Client;
using Leadwright.Client.Devices;
using Leadwright.Client.Model;
using Leadwright.Core.Hookups;
using Microsoft.AspNetCore.Components.WebAssembly.Hosting;

var builder = WebAssemblyHostBuilder.CreateDefault(args);
builder.RootComponents.Add<App>("#app");
builder.RootComponents.Add<Microsoft.AspNetCore.Components.Web.HeadOutlet>("head::after");
builder.Services.AddSingleton(TimeProvider.System);
builder.Services.AddSingleton<HookupJudge>(HookupCheck.Judge);
builder.Services.AddSingleton<IDevice, BrowserDevice>();
builder.Services.AddSingleton<HookupSheet>();
builder.Services.AddSingleton<PracticeSheet>();
builder.Services.AddSingleton<PlanBoard>();
await builder.Build().RunAsync();
