_barpoise() {
    local i cur prev opts cmd
    COMPREPLY=()
    if [[ "${BASH_VERSINFO[0]}" -ge 4 ]]; then
        cur="$2"
    else
        cur="${COMP_WORDS[COMP_CWORD]}"
    fi
    prev="$3"
    cmd=""
    opts=""

    for i in "${COMP_WORDS[@]:0:COMP_CWORD}"
    do
        case "${cmd},${i}" in
            ",$1")
                cmd="barpoise"
                ;;
            barpoise,check)
                cmd="barpoise__subcmd__check"
                ;;
            barpoise,choose)
                cmd="barpoise__subcmd__choose"
                ;;
            barpoise,cut)
                cmd="barpoise__subcmd__cut"
                ;;
            barpoise,figures)
                cmd="barpoise__subcmd__figures"
                ;;
            barpoise,handout)
                cmd="barpoise__subcmd__handout"
                ;;
            barpoise,picture)
                cmd="barpoise__subcmd__picture"
                ;;
            barpoise,weigh-in)
                cmd="barpoise__subcmd__weigh__subcmd__in"
                ;;
            *)
                ;;
        esac
    done

    case "${cmd}" in
        barpoise)
            opts="-h -V --help --version figures cut choose weigh-in handout picture check"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 1 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__check)
            opts="-h --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__choose)
            opts="-h --wood --limit --weigh --scale --undone --numbers --unsuited --stature --survey --body-mass --kneel --strength --slope --json --csv --units --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --wood)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --limit)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --weigh)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --scale)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --undone)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stature)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --survey)
                    COMPREPLY=($(compgen -W "men women" -- "${cur}"))
                    return 0
                    ;;
                --body-mass)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --kneel)
                    COMPREPLY=($(compgen -W "yes no" -- "${cur}"))
                    return 0
                    ;;
                --strength)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --slope)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --units)
                    COMPREPLY=($(compgen -W "mm-kg in-lb" -- "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__cut)
            opts="-h --setup --diameter --oval --stand --above-ground --tangle --bind --swing --bark --stature --survey --body-mass --kneel --strength --slope --json --csv --units --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --setup)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --diameter)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --oval)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stand)
                    COMPREPLY=($(compgen -W "one-side both-sides walk-round" -- "${cur}"))
                    return 0
                    ;;
                --above-ground)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --tangle)
                    COMPREPLY=($(compgen -W "none near far" -- "${cur}"))
                    return 0
                    ;;
                --bind)
                    COMPREPLY=($(compgen -W "none top bottom" -- "${cur}"))
                    return 0
                    ;;
                --swing)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bark)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stature)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --survey)
                    COMPREPLY=($(compgen -W "men women" -- "${cur}"))
                    return 0
                    ;;
                --body-mass)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --kneel)
                    COMPREPLY=($(compgen -W "yes no" -- "${cur}"))
                    return 0
                    ;;
                --strength)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --slope)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --units)
                    COMPREPLY=($(compgen -W "mm-kg in-lb" -- "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__figures)
            opts="-h --setup --stature --survey --body-mass --kneel --strength --slope --json --csv --units --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --setup)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stature)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --survey)
                    COMPREPLY=($(compgen -W "men women" -- "${cur}"))
                    return 0
                    ;;
                --body-mass)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --kneel)
                    COMPREPLY=($(compgen -W "yes no" -- "${cur}"))
                    return 0
                    ;;
                --strength)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --slope)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --units)
                    COMPREPLY=($(compgen -W "mm-kg in-lb" -- "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__handout)
            opts="-o -h --setup --log --stand --stature --survey --body-mass --kneel --strength --slope --author --paper --units --output --force --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --setup)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --log)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stand)
                    COMPREPLY=($(compgen -W "one-side both-sides walk-round" -- "${cur}"))
                    return 0
                    ;;
                --stature)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --survey)
                    COMPREPLY=($(compgen -W "men women" -- "${cur}"))
                    return 0
                    ;;
                --body-mass)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --kneel)
                    COMPREPLY=($(compgen -W "yes no" -- "${cur}"))
                    return 0
                    ;;
                --strength)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --slope)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --author)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --paper)
                    COMPREPLY=($(compgen -W "a4 letter" -- "${cur}"))
                    return 0
                    ;;
                --units)
                    COMPREPLY=($(compgen -W "mm-kg in-lb" -- "${cur}"))
                    return 0
                    ;;
                --output)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                -o)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__picture)
            opts="-o -h --view --setup --log --oval --stand --above-ground --tangle --bind --swing --bark --stature --survey --body-mass --kneel --strength --slope --ground --size --moving --scale --units --output --force --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --view)
                    COMPREPLY=($(compgen -W "bench log rack" -- "${cur}"))
                    return 0
                    ;;
                --setup)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --log)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --oval)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stand)
                    COMPREPLY=($(compgen -W "one-side both-sides walk-round" -- "${cur}"))
                    return 0
                    ;;
                --above-ground)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --tangle)
                    COMPREPLY=($(compgen -W "none near far" -- "${cur}"))
                    return 0
                    ;;
                --bind)
                    COMPREPLY=($(compgen -W "none top bottom" -- "${cur}"))
                    return 0
                    ;;
                --swing)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --bark)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --stature)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --survey)
                    COMPREPLY=($(compgen -W "men women" -- "${cur}"))
                    return 0
                    ;;
                --body-mass)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --kneel)
                    COMPREPLY=($(compgen -W "yes no" -- "${cur}"))
                    return 0
                    ;;
                --strength)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --slope)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --ground)
                    COMPREPLY=($(compgen -W "light dark print" -- "${cur}"))
                    return 0
                    ;;
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --moving)
                    COMPREPLY=($(compgen -W "grow cut hang" -- "${cur}"))
                    return 0
                    ;;
                --scale)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --units)
                    COMPREPLY=($(compgen -W "mm-kg in-lb" -- "${cur}"))
                    return 0
                    ;;
                --output)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                -o)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        barpoise__subcmd__weigh__subcmd__in)
            opts="-h --json --apply --even-so --statistics --units --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --units)
                    COMPREPLY=($(compgen -W "mm-kg in-lb" -- "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
    esac
}

if [[ "${BASH_VERSINFO[0]}" -eq 4 && "${BASH_VERSINFO[1]}" -ge 4 || "${BASH_VERSINFO[0]}" -gt 4 ]]; then
    complete -F _barpoise -o nosort -o bashdefault -o default barpoise
else
    complete -F _barpoise -o bashdefault -o default barpoise
fi
