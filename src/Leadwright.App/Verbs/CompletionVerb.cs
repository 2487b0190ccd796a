using System.CommandLine;

namespace Leadwright.App.Verbs;

/// <summary>The verb <c>completion</c>: the lines that teach a shell to complete verbs and options.</summary>
internal static class CompletionVerb
{
    // The parser answers what may follow: leadwright "[suggest:POSITION]" "WORDS".
    private const string Bash = """
        # leadwright: in ~/.bashrc put   source <(leadwright completion bash)
        _leadwright() {
          local words="${COMP_LINE#* }" at
          at=$(( COMP_POINT - ${#COMP_LINE} + ${#words} ))
          [ "$at" -ge 0 ] || at=0
          mapfile -t COMPREPLY < <(compgen -W "$(leadwright "[suggest:$at]" "$words" 2>/dev/null | tr '\n' ' ')" -- "${COMP_WORDS[COMP_CWORD]}")
        }
        complete -o default -F _leadwright leadwright
        """;

    private const string Zsh = """
        # leadwright: in ~/.zshrc put   source <(leadwright completion zsh)
        _leadwright() {
          local words="${BUFFER#* }"
          local -a found
          found=("${(@f)$(leadwright "[suggest:${#words}]" "$words" 2>/dev/null)}")
          compadd -a found
          _files
        }
        compdef _leadwright leadwright
        """;

    private const string Fish = """
        # leadwright: leadwright completion fish > ~/.config/fish/completions/leadwright.fish
        function __leadwright
            set -l words (string replace -r '^\S+\s*' '' -- (commandline -cp))
            leadwright "[suggest:"(string length -- "$words")"]" "$words" 2>/dev/null
        end
        complete -c leadwright -a '(__leadwright)'
        """;

    private const string PowerShell = """
        # leadwright: in $PROFILE put   leadwright completion pwsh | Out-String | Invoke-Expression
        Register-ArgumentCompleter -Native -CommandName leadwright -ScriptBlock {
            param($word, $line, $position)
            $words = "$line" -replace '^\S+\s*', ''
            leadwright "[suggest:$($words.Length)]" "$words" 2>$null | Where-Object { $_ -like "$word*" } |
                ForEach-Object { [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_) }
        }
        """;

    /// <summary>The command.</summary>
    /// <param name="output">Receives the lines.</param>
    public static Command Command(TextWriter output)
    {
        var shell = new Argument<string>("SHELL") { Description = "bash, zsh, fish or pwsh." };
        shell.AcceptOnlyFromAmong("bash", "zsh", "fish", "pwsh");
        var command = new Command("completion", "Prints what teaches a shell to complete verbs and options; its first line says where to put it.") { shell };
        command.SetAction(async (parsed, cancellation) =>
        {
            var lines = parsed.GetRequiredValue(shell) switch { "bash" => Bash, "zsh" => Zsh, "fish" => Fish, _ => PowerShell };
            await output.WriteLineAsync(lines.ReplaceLineEndings("\n").AsMemory(), cancellation);
            return (int)ExitCode.NothingWrong;
        });
        return command;
    }
}
