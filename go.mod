module scaperound

go 1.26
