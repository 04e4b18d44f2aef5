# Completion of polewright for bash, with the package bash-completion. The program answers __complete with a line for each choice, a note behind
# a tabulator, and last a colon and a sum of: 2 no space behind it, 4 no names of files, 8 files with that ending, 16 folders, 32 keep the order.
_polewright() {
	local cur words cword
	_get_comp_words_by_ref -n =: cur words cword || return

	# The program gets words with their quotes closed. What is inserted has backslashes before spaces, but none within quotes.
	local escape=%q quote=${cur:0:1}
	if [[ $quote == [\"\'] ]]; then
		escape=%s
		cur=${cur#?}
		words[cword]=$quote$cur$quote
	fi
	local answer
	answer=$(eval "${words[0]} __complete ${words[*]:1:cword-1} ${words[cword]:-''}" 2>/dev/null) || return
	local -i sum=${answer##*:}
	((sum & 2)) && compopt -o nospace
	((sum & 32)) && compopt -o nosort 2>/dev/null # bash 4.4
	if ((sum & 8)); then
		_filedir "${answer%%$'\n'*}"
		return
	elif ((sum & 16)); then
		_filedir -d
		return
	fi

	[[ $cur == -*=* ]] && cur=${cur#*=}
	local line choice notes=() longest=0
	while IFS= read -r line && [[ $line != :* ]]; do
		printf -v choice "$escape" "${line%%$'\t'*}"
		[[ $choice == "$cur"* ]] || continue
		COMPREPLY+=("$choice")
		line=${line#*$'\t'}
		notes+=("$line")
		((${#choice} <= longest)) || longest=${#choice}
	done <<<"$answer"
	case ${#COMPREPLY[@]} in
	0)
		((sum & 4)) || _filedir
		;;
	1)
		# Behind the only choice the quotes would be closed, although more is to be typed.
		[[ $escape == %s ]] && ((sum & 2)) && COMPREPLY+=("${COMPREPLY[0]} = ")
		;;
	*)
		if ((COMP_TYPE == 63)); then # they are listed, not inserted
			local -i i room=COLUMNS-longest-5
			for i in "${!COMPREPLY[@]}"; do
				[[ ${notes[i]} != "${COMPREPLY[i]}" ]] && printf -v "COMPREPLY[i]" "%-${longest}s  (%s)" "${COMPREPLY[i]}" "${notes[i]:0:room>9?room:9}"
			done
		fi
		;;
	esac
	__ltrim_colon_completions "$cur"
} && complete -F _polewright polewright
