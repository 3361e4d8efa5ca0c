if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal commentstring=//\ %s
setlocal comments=://
" An indented line goes on with the statement above it.
setlocal shiftwidth=2
setlocal expandtab
let b:undo_ftplugin = 'setlocal commentstring< comments< shiftwidth< expandtab<'

if exists(':ALEInfo')
  setlocal omnifunc=ale#completion#OmniFunc
  let b:undo_ftplugin .= ' omnifunc<'
endif
