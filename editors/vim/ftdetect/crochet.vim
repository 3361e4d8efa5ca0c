autocmd BufNewFile,BufRead *.crochet setfiletype crochet
