" How ALE (https://github.com/dense-analysis/ale) starts the server.

call ale#Set('crochet_workeven_executable', 'workeven')
call ale#Set('crochet_workeven_config', {})

" The nearest folder above with a configuration or a repository, else the
" pattern's own: ALE starts no server without one.
function! ale_linters#crochet#workeven#Root(buffer) abort
    let l:config = ale#path#FindNearestFile(a:buffer, '.workeven.toml')

    if !empty(l:config)
        return fnamemodify(l:config, ':h')
    endif

    let l:repository = ale#path#FindNearestDirectory(a:buffer, '.git')

    if !empty(l:repository)
        return fnamemodify(l:repository, ':h:h')
    endif

    return expand('#' . a:buffer . ':p:h')
endfunction

call ale#linter#Define('crochet', {
\   'name': 'workeven',
\   'lsp': 'stdio',
\   'executable': {b -> ale#Var(b, 'crochet_workeven_executable')},
\   'command': '%e lsp',
\   'project_root': function('ale_linters#crochet#workeven#Root'),
\   'lsp_config': {b -> ale#Var(b, 'crochet_workeven_config')},
\   'language': 'crochet',
\})
