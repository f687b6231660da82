# Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
function __fish_barpoise_global_optspecs
    string join \n h/help V/version
end

function __fish_barpoise_needs_command
    # Figure out if the current invocation already has a command.
    set -l cmd (commandline -opc)
    set -e cmd[1]
    argparse -s (__fish_barpoise_global_optspecs) -- $cmd 2>/dev/null
    or return
    if set -q argv[1]
        # Also print the command, so this can be used to figure out what it is.
        echo $argv[1]
        return 1
    end
    return 0
end

function __fish_barpoise_using_subcommand
    set -l cmd (__fish_barpoise_needs_command)
    test -z "$cmd"
    and return 1
    contains -- $cmd[1] $argv
end

complete -c barpoise -n "__fish_barpoise_needs_command" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_needs_command" -s V -l version -d 'Print version'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "figures" -d 'Print the figures of all setups, or of one'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "cut" -d 'Say how a setup takes a log apart'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "choose" -d 'Choose among a yard\'s setups for a wood'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "weigh-in" -d 'Say what the readings in a yard teach of its saws'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "handout" -d 'Write a sheet of paper that explains a yard\'s setups'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "picture" -d 'Write a drawing of the bench, the log or the rack'
complete -c barpoise -n "__fish_barpoise_needs_command" -a "check" -d 'Check a yard or a lesson and say what it holds'
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l setup -d 'Only the setup of this name' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l stature -d 'Stature, barefoot, such as 1690mm, 169 cm, 66.5 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l survey -d 'Whose means stand in for what is not the person\'s own' -r -f -a "men\t'Men'
women\t'Women'"
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l body-mass -d 'Body mass, such as 71kg or 156lb' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l kneel -d 'Whether they kneel on one knee' -r -f -a "yes\t'They do'
no\t'They do not'"
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l strength -d 'Strength: how many of a hundred such people are weaker, 1 to 99' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l slope -d 'Slope of the ground across the log; positive where it rises from the near to the far side' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l units -d 'Units of the table' -r -f -a "mm-kg\t'Millimetres, kilograms, newtons'
in-lb\t'Inches, pounds, pounds-force'"
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l json -d 'As JSON, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -l csv -d 'As CSV, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand figures" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l setup -d 'The setup of this name' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l diameter -d 'Diameter of the log, such as 560mm, 56 cm, 22 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l oval -d 'Upright diameter of an oval log; the other one is across' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l stand -d 'Where the operator stands' -r -f -a "one-side\t'On the near side only'
both-sides\t'On the near side, then on the far side'
walk-round\t'All round the log'"
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l above-ground -d 'Height of the log\'s underside above the ground' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l tangle -d 'Side on which branches hide the nose' -r -f -a "none\t'Clear ground all round'
near\t'On the near side'
far\t'On the far side'"
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l bind -d 'Side of the log that is pressed together' -r -f -a "none\t'Neither'
top\t'The top: a log resting on both ends'
bottom\t'The underside: a log that overhangs its rest'"
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l swing -d 'Most that the bar swings about the spikes from straight in, nose up and nose down, 45 to 90 degrees' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l bark -d 'Bark that may be used, counter-clockwise from the far side in degrees, such as 80,230; may be given more than once; the side that an arc lies on is the one it is cut from [default: what goes with the stand]' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l stature -d 'Stature, barefoot, such as 1690mm, 169 cm, 66.5 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l survey -d 'Whose means stand in for what is not the person\'s own' -r -f -a "men\t'Men'
women\t'Women'"
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l body-mass -d 'Body mass, such as 71kg or 156lb' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l kneel -d 'Whether they kneel on one knee' -r -f -a "yes\t'They do'
no\t'They do not'"
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l strength -d 'Strength: how many of a hundred such people are weaker, 1 to 99' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l slope -d 'Slope of the ground across the log; positive where it rises from the near to the far side' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l units -d 'Units of the words' -r -f -a "mm-kg\t'Millimetres, kilograms, newtons'
in-lb\t'Inches, pounds, pounds-force'"
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l json -d 'As JSON, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -l csv -d 'As CSV, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand cut" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l wood -d 'The wood of this name' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l limit -d 'A bound that must be kept, such as hang=20deg, weight=9kg, front-hand=110N, nose-out=40cm, done=90%' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l weigh -d 'How much a measure counts, such as front-hand=2; 0 for not at all' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l scale -d 'Where a measure is no burden and where it is as bad as it gets, such as front-hand=50N..150N' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l undone -d 'What becomes of cuts that a saw does not do: other-side, left, or the name of another setup' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l stature -d 'Stature, barefoot, such as 1690mm, 169 cm, 66.5 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l survey -d 'Whose means stand in for what is not the person\'s own' -r -f -a "men\t'Men'
women\t'Women'"
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l body-mass -d 'Body mass, such as 71kg or 156lb' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l kneel -d 'Whether they kneel on one knee' -r -f -a "yes\t'They do'
no\t'They do not'"
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l strength -d 'Strength: how many of a hundred such people are weaker, 1 to 99' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l slope -d 'Slope of the ground across the log; positive where it rises from the near to the far side' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l units -d 'Units of the words' -r -f -a "mm-kg\t'Millimetres, kilograms, newtons'
in-lb\t'Inches, pounds, pounds-force'"
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l numbers -d 'The numbers of every setup as well'
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l unsuited -d 'Admit setups that do not suit themselves as well'
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l json -d 'As JSON, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -l csv -d 'As CSV, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand choose" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_using_subcommand weigh-in" -l units -d 'Units of the words' -r -f -a "mm-kg\t'Millimetres, kilograms, newtons'
in-lb\t'Inches, pounds, pounds-force'"
complete -c barpoise -n "__fish_barpoise_using_subcommand weigh-in" -l json -d 'As JSON, in SI units'
complete -c barpoise -n "__fish_barpoise_using_subcommand weigh-in" -l apply -d 'Write what was learnt into the file'
complete -c barpoise -n "__fish_barpoise_using_subcommand weigh-in" -l even-so -d 'Apply readings that contradict each other as well'
complete -c barpoise -n "__fish_barpoise_using_subcommand weigh-in" -l statistics -d 'Say in the numbers of statistics how the readings go together'
complete -c barpoise -n "__fish_barpoise_using_subcommand weigh-in" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l setup -d 'A setup on the sheet, the first of them on top; may be given more than once [default: all]' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l log -d 'A log that the first setup takes apart, such as 560mm, 56 cm, 22 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l stand -d 'Where the operator stands to it' -r -f -a "one-side\t'On the near side only'
both-sides\t'On the near side, then on the far side'
walk-round\t'All round the log'"
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l stature -d 'Stature, barefoot, such as 1690mm, 169 cm, 66.5 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l survey -d 'Whose means stand in for what is not the person\'s own' -r -f -a "men\t'Men'
women\t'Women'"
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l body-mass -d 'Body mass, such as 71kg or 156lb' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l kneel -d 'Whether they kneel on one knee' -r -f -a "yes\t'They do'
no\t'They do not'"
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l strength -d 'Strength: how many of a hundred such people are weaker, 1 to 99' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l slope -d 'Slope of the ground across the log; positive where it rises from the near to the far side' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l author -d 'Who made the sheet: printed on it, and said by a PDF of itself' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l paper -d 'Size of the sheet' -r -f -a "a4\t'210 mm by 297 mm'
letter\t'8.5 in by 11 in'"
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l units -d 'Units of the figures' -r -f -a "mm-kg\t'Millimetres, kilograms, newtons'
in-lb\t'Inches, pounds, pounds-force'"
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -s o -l output -d 'File to write: .pdf, .svg or .png' -r -F
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -l force -d 'Write over a drawing of the same form that stands there; any other file is left as it is'
complete -c barpoise -n "__fish_barpoise_using_subcommand handout" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l view -d 'What is drawn' -r -f -a "bench\t'The saw to scale, with its balance and reach'
log\t'A log before the saw'
rack\t'Setups under each other to one scale'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l setup -d 'The setup; the rack takes more than one [default: the yard\'s first; all of them for the rack]' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l log -d 'The log of the log\'s view' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l oval -d 'Upright diameter of an oval log; the other one is across' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l stand -d 'Where the operator stands' -r -f -a "one-side\t'On the near side only'
both-sides\t'On the near side, then on the far side'
walk-round\t'All round the log'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l above-ground -d 'Height of the log\'s underside above the ground' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l tangle -d 'Side on which branches hide the nose' -r -f -a "none\t'Clear ground all round'
near\t'On the near side'
far\t'On the far side'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l bind -d 'Side of the log that is pressed together' -r -f -a "none\t'Neither'
top\t'The top: a log resting on both ends'
bottom\t'The underside: a log that overhangs its rest'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l swing -d 'Most that the bar swings about the spikes from straight in, nose up and nose down, 45 to 90 degrees' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l bark -d 'Bark that may be used, counter-clockwise from the far side in degrees, such as 80,230; may be given more than once; the side that an arc lies on is the one it is cut from [default: what goes with the stand]' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l stature -d 'Stature, barefoot, such as 1690mm, 169 cm, 66.5 in' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l survey -d 'Whose means stand in for what is not the person\'s own' -r -f -a "men\t'Men'
women\t'Women'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l body-mass -d 'Body mass, such as 71kg or 156lb' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l kneel -d 'Whether they kneel on one knee' -r -f -a "yes\t'They do'
no\t'They do not'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l strength -d 'Strength: how many of a hundred such people are weaker, 1 to 99' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l slope -d 'Slope of the ground across the log; positive where it rises from the near to the far side' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l ground -d 'Ground of the drawing' -r -f -a "light\t'Drafting paper'
dark\t'Slate'
print\t'White'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l size -d 'Width and height in pixels' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l moving -d 'A picture that moves, as a .gif: of the bench the bar growing or the saw coming to rest, of the log the cut' -r -f -a "grow\t'The bar grows from the rack\'s shortest to its longest, in the same hand'
cut\t'A cut, from the first laying on until it is through'
hang\t'The saw is let go at the rear and comes to rest as it hangs'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l scale -d 'So many pixels of a .png or a .gif for each of those' -r
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l units -d 'Units of the figures' -r -f -a "mm-kg\t'Millimetres, kilograms, newtons'
in-lb\t'Inches, pounds, pounds-force'"
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -s o -l output -d 'File to write: .svg, .png or .pdf; .gif where it moves' -r -F
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -l force -d 'Write over a drawing of the same form that stands there; any other file is left as it is'
complete -c barpoise -n "__fish_barpoise_using_subcommand picture" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c barpoise -n "__fish_barpoise_using_subcommand check" -s h -l help -d 'Print help (see more with \'--help\')'
